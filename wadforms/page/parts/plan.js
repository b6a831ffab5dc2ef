/* The setting from below, with a handle on each wad: drag it, turn it by its knob, or use keys. */
const KEYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export default {
  template: `
    <div class="plan">
      <div class="sheet" v-html="picture" aria-hidden="true"></div>
      <svg class="handles" :viewBox="'0 0 ' + width + ' ' + height" role="group"
        :aria-label="label" ref="handles">
        <g v-for="(s, k) in spots" :key="k" tabindex="0" role="button" class="handle"
          :class="{chosen: k === chosen}" :aria-label="s.label" :aria-pressed="k === chosen ? 'true' : 'false'"
          @pointerdown="grab($event, k, false)" @focus="choose(k)" @keydown="pressed($event, k)">
          <circle :cx="place(k)[0]" :cy="place(k)[1]" :r="reach" class="hit"/>
          <text :x="place(k)[0]" :y="place(k)[1]" class="number" :font-size="14 * zoom">{{ k + 1 }}</text>
        </g>
        <g v-if="chosen >= 0 && chosen < spots.length" class="knob" @pointerdown="grab($event, chosen, true)">
          <line :x1="place(chosen)[0]" :y1="place(chosen)[1]" :x2="knob[0]" :y2="knob[1]"/>
          <circle :cx="knob[0]" :cy="knob[1]" :r="22 * zoom" class="hit"/>
          <circle :cx="knob[0]" :cy="knob[1]" :r="8 * zoom" class="dot"/>
        </g>
      </svg>
    </div>`,
  props: {
    picture: String, width: Number, height: Number, label: String, chosen: Number,
    spots: { type: Array, default: () => [] },
  },
  data() {
    return { held: -1, turning: false, at: null, zoom: 1, last: 0, later: null };
  },
  computed: {
    reach() {
      return Math.max(22 * this.zoom, 3);
    },
    knob() {
      const s = this.spots[this.chosen];
      if (this.turning && this.at) return this.at;
      const [x, y] = this.place(this.chosen);
      const far = Math.max(s.reach, 26 * this.zoom) + 20 * this.zoom;
      return [x + far * s.along[0], y + far * s.along[1]];
    },
  },
  mounted() {
    this.watcher = new ResizeObserver(() => this.measure());
    this.watcher.observe(this.$el);
    this.measure();
  },
  updated() {
    this.measure();
  },
  beforeUnmount() {
    this.watcher.disconnect();
    clearTimeout(this.later);
  },
  methods: {
    measure() {
      const wide = this.$refs.handles.clientWidth;
      const zoom = wide ? this.width / wide : 1;
      if (Math.abs(zoom - this.zoom) > 1e-4) this.zoom = zoom;
    },
    place(k) {
      if (k === this.held && !this.turning && this.at) return this.at;
      return [this.spots[k].x, this.spots[k].y];
    },
    choose(k) {
      this.$emit("chosen", k);
    },
    here(event) {
      const box = this.$refs.handles.getBoundingClientRect();
      return [
        ((event.clientX - box.left) / box.width) * this.width,
        ((event.clientY - box.top) / box.height) * this.height,
      ];
    },
    grab(event, k, turning) {
      event.preventDefault();
      event.currentTarget.focus?.();
      this.choose(k);
      this.held = k;
      this.turning = turning;
      const start = this.here(event);
      const from = turning ? this.knob.slice() : this.place(k).slice();
      const move = (e) => {
        const [x, y] = this.here(e);
        this.at = [from[0] + x - start[0], from[1] + y - start[1]];
        this.send(false);
      };
      const end = () => {
        window.removeEventListener("pointermove", move);
        window.removeEventListener("pointerup", end);
        window.removeEventListener("pointercancel", end);
        if (this.at) this.send(true);
        this.held = -1;
        this.turning = false;
        this.at = null;
      };
      window.addEventListener("pointermove", move);
      window.addEventListener("pointerup", end);
      window.addEventListener("pointercancel", end);
    },
    send(last) {
      clearTimeout(this.later);
      const wait = 60 - (performance.now() - this.last);
      if (!last && wait > 0) {
        this.later = setTimeout(() => this.send(false), wait);
        return;
      }
      if (!this.at) return;
      this.last = performance.now();
      this.$emit(this.turning ? "turned" : "moved", this.held, this.at[0], this.at[1], last);
    },
    pressed(event, k) {
      const step = KEYS[event.key];
      if (step) this.$emit("stepped", k, step[0], step[1], event.shiftKey);
      else if (event.key === "," || event.key === "<") this.$emit("stepturned", k, -1, event.shiftKey);
      else if (event.key === "." || event.key === ">") this.$emit("stepturned", k, 1, event.shiftKey);
      else if (event.key === "Delete" || event.key === "Backspace") this.$emit("removed", k);
      else return;
      event.preventDefault();
    },
  },
};
