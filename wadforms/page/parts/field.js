/* One labelled field. What is typed stays as it is until the server sets another value, told by
   a new stamp: an answer that comes late never takes letters away. */
export default {
  template: `
    <div class="field" :class="{wrong: fault, wide: wide, tick: kind === 'check', choice: kind === 'select'}">
      <template v-if="kind === 'check'">
        <label><input type="checkbox" :id="uid" v-model="ticked" @change="tell(ticked ? 'yes' : '')">
          <span>{{ label }}</span></label>
      </template>
      <template v-else>
        <label :for="uid">{{ label }}</label>
        <select v-if="kind === 'select'" :id="uid" v-model="text" @change="tell(text)"
          :aria-describedby="about" :aria-invalid="fault ? 'true' : null">
          <option v-for="o in options" :key="o[0]" :value="o[0]">{{ o[1] }}</option>
        </select>
        <input v-else type="text" :id="uid" v-model="text" @input="tell(text)"
          :inputmode="mode" autocomplete="off" autocapitalize="none" spellcheck="false"
          :list="options.length ? uid + '-list' : null"
          :aria-describedby="about" :aria-invalid="fault ? 'true' : null" :maxlength="200">
        <datalist v-if="kind === 'text' && options.length" :id="uid + '-list'">
          <option v-for="o in options" :key="o[0]" :value="o[0]">{{ o[1] }}</option>
        </datalist>
        <input v-if="high !== null" type="range" :min="low" :max="high" :step="step"
          v-model.number="number" @input="slid" :aria-label="label + ', slider'">
      </template>
      <p v-if="hint" class="hint" :id="uid + '-hint'">{{ hint }}</p>
      <p v-if="fault" class="fault" :id="uid + '-fault'">✕ {{ fault }}</p>
    </div>`,
  props: {
    uid: String, label: String, kind: { type: String, default: "text" },
    value: { type: String, default: "" }, stamp: { type: Number, default: 0 },
    options: { type: Array, default: () => [] },
    hint: { type: String, default: "" }, fault: { type: String, default: "" },
    mode: { type: String, default: "decimal" }, wide: Boolean,
    low: { type: Number, default: null }, high: { type: Number, default: null },
    step: { type: Number, default: 1 }, at: { type: Number, default: 0 },
    unit: { type: String, default: "" },
  },
  data() {
    return { text: this.value, ticked: this.value === "yes", number: this.at };
  },
  computed: {
    about() {
      const ids = [];
      if (this.fault) ids.push(this.uid + "-fault");
      if (this.hint) ids.push(this.uid + "-hint");
      return ids.length ? ids.join(" ") : null;
    },
  },
  watch: {
    stamp() {
      this.text = this.value;
      this.ticked = this.value === "yes";
    },
    at() {
      this.number = this.at;
    },
  },
  methods: {
    tell(text) {
      this.$emit("typed", text);
    },
    slid() {
      this.text = (this.number + " " + this.unit).trim();
      this.tell(this.text);
    },
  },
};
