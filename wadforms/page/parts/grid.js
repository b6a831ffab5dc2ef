/* A table to fill in: on a wide screen all of it, on a narrow one a row at a time.  What is typed
   is here at once and told to the server, which says what is wrong with which cell. */
const AT_ONCE = 50;

export default {
  template: `
    <div class="grid">
      <div class="row">
        <button type="button" class="main" @click="add">Add a row</button>
        <button v-if="gone" type="button" @click="putBack">Put back {{ gone.cells[0] || "the row" }}</button>
        <label v-if="optional" class="every"><input type="checkbox" v-model="every"> Every column</label>
        <template v-if="pages > 1">
          <button type="button" :disabled="page === 0" @click="page--">◂ Rows before</button>
          <span>{{ start + 1 }} to {{ end }} of {{ table.length }}</span>
          <button type="button" :disabled="page >= pages - 1" @click="page++">Rows after ▸</button>
        </template>
      </div>
      <p class="hint">Row {{ first - 1 }} is the headings, as in a spreadsheet.</p>
      <div v-if="!narrow" class="wide" role="region" :aria-label="label" tabindex="0">
        <table :aria-label="label">
          <thead><tr><th scope="col">Row</th>
            <th v-for="c in columns" :key="c" scope="col" :title="heads[c].help">
              <input v-if="headsWrong" type="text" v-model="heads[c].text" :aria-label="'Heading ' + (c + 1)"
                @input="$emit('heading', [c, heads[c].text])" autocomplete="off">
              <template v-else>{{ heads[c].text }}</template>
            </th></tr></thead>
          <tbody><tr v-for="r in shown" :key="r">
            <th scope="row"><button type="button" @click="menu = menu === r ? -1 : r" :aria-expanded="menu === r ? 'true' : 'false'"
              :aria-label="'Copy or delete ' + title(r)">{{ first + r }} {{ menu === r ? "▾" : "▸" }}</button>
              <span v-if="menu === r" class="change"><button type="button" @click="copy(r)" :aria-label="'Copy ' + title(r)">Copy</button>
                <button type="button" @click="remove(r)" :aria-label="'Delete ' + title(r)">Delete</button></span></th>
            <td v-for="c in columns" :key="c" :class="{wrong: fault(r, c), idle: !uses(r, c)}">
              <input type="text" :id="id(r, c)" v-model="table[r][c]" @input="tell(r, c)" :class="heads[c].words ? 'words' : ''"
                @keydown="key($event, r, c)" @paste="paste($event, r, c)" :aria-label="named(r, c)"
                :aria-invalid="fault(r, c) ? 'true' : null" :aria-describedby="fault(r, c) ? id(r, c) + '-fault' : null"
                :inputmode="heads[c].words ? 'text' : 'decimal'" autocomplete="off" autocapitalize="none" spellcheck="false" :maxlength="1000"
                :list="heads[c].known.length ? uid + '-known-' + c : null">
              <p v-if="fault(r, c)" class="fault" :id="id(r, c) + '-fault'">✕ {{ fault(r, c) }}</p>
            </td>
          </tr></tbody>
        </table>
      </div>
      <ol v-else class="cards">
        <li v-for="r in shown" :key="r" :class="{wrong: wrongs(r)}">
          <button type="button" class="open" :aria-expanded="open === r ? 'true' : 'false'" :id="uid + '-row-' + r"
            @click="open = open === r ? -1 : r">{{ open === r ? "▾" : "▸" }} {{ line(r) }}
            <span v-if="wrongs(r)" class="fault">✕ {{ wrongs(r) }}</span></button>
          <div v-if="open === r" class="fields">
            <div v-for="c in fitting(r)" :key="c" class="field" :class="{wrong: fault(r, c)}">
              <label :for="id(r, c)">{{ heads[c].text }}</label>
              <input type="text" :id="id(r, c)" v-model="table[r][c]" @input="tell(r, c)" @paste="paste($event, r, c)"
                :aria-invalid="fault(r, c) ? 'true' : null" :aria-describedby="id(r, c) + '-hint'"
                :inputmode="heads[c].words ? 'text' : 'decimal'" autocomplete="off" autocapitalize="none" spellcheck="false" :maxlength="1000"
                :list="heads[c].known.length ? uid + '-known-' + c : null">
              <p class="hint" :id="id(r, c) + '-hint'">{{ heads[c].help }}</p>
              <p v-if="fault(r, c)" class="fault" role="note">✕ {{ fault(r, c) }}</p>
            </div>
            <div class="row"><button type="button" @click="copy(r)">Copy this row</button>
              <button type="button" @click="remove(r)">Delete this row</button></div>
          </div>
        </li>
      </ol>
      <datalist v-for="c in listed" :key="c" :id="uid + '-known-' + c"><option v-for="k in heads[c].known" :key="k" :value="k"></option></datalist>
    </div>`,
  props: {
    uid: String, label: String, stamp: { type: Number, default: 0 }, first: { type: Number, default: 2 },
    headings: { type: Array, default: () => [] }, rows: { type: Array, default: () => [] },
    kinds: { type: Object, default: () => ({}) }, kind: { type: Number, default: -1 },
  },
  data() {
    return { table: [], heads: [], faults: {}, headsWrong: false, every: false, gone: null, page: 0, open: -1, menu: -1, narrow: false };
  },
  created() {
    this.take();
    // A few columns fit where a list of many does not.
    this.asked = window.matchMedia(this.headings.length > 4 ? "(max-width: 60rem)" : "(max-width: 32rem)");
    this.turn = () => { this.narrow = this.asked.matches; };
    this.turn();
    this.asked.addEventListener("change", this.turn);
  },
  unmounted() {
    this.asked.removeEventListener("change", this.turn);
  },
  watch: {
    stamp() { this.take(); },
  },
  computed: {
    pages() { return Math.max(1, Math.ceil(this.table.length / AT_ONCE)); },
    start() { return Math.min(this.page, this.pages - 1) * AT_ONCE; },
    end() { return Math.min(this.start + AT_ONCE, this.table.length); },
    shown() { return Array.from({ length: this.end - this.start }, (_, k) => this.start + k); },
    listed() { return this.heads.map((_, c) => c).filter((c) => this.heads[c].known.length); },
    optional() { return this.heads.some((h) => !h.often); },
    columns() {
      const wrong = new Set(Object.keys(this.faults).map((key) => Number(key.split(",")[1])));
      return this.heads.map((_, c) => c).filter((c) => this.every || this.headsWrong || this.heads[c].often || wrong.has(c)
        || this.table.some((row) => row[c]));
    },
  },
  methods: {
    take() {
      this.heads = this.headings.map((h) => ({ ...h }));
      this.table = this.rows.map((row) => [...row]);
      this.faults = {};
      this.gone = null;
      this.page = 0;
      this.open = -1;
    },
    blame(faults, headsWrong) {
      this.faults = faults;
      this.headsWrong = headsWrong;
    },
    show(r, c) {
      this.page = Math.floor(r / AT_ONCE);
      this.open = r;
      this.focus(r, c);
    },
    id(r, c) { return this.uid + "-" + r + "-" + c; },
    fault(r, c) { return this.faults[r + "," + c]; },
    wrongs(r) {
      const count = Object.keys(this.faults).filter((key) => key.startsWith(r + ",")).length;
      return count ? (count === 1 ? "1 cell" : count + " cells") : "";
    },
    title(r) { return "row " + (this.first + r) + (this.table[r][0] ? ", " + this.table[r][0] : ""); },
    named(r, c) { return this.heads[c].text + ", " + this.title(r); },
    line(r) {
      const row = this.table[r];
      return "Row " + (this.first + r) + ": " + (row.slice(0, 3).filter((cell) => cell).join(" · ") || "empty");
    },
    uses(r, c) {
      if (this.kind < 0) return true;
      const used = this.kinds[this.table[r][this.kind].trim().toLowerCase() || "pot"];
      return !used || used.includes(this.heads[c].name);
    },
    fitting(r) {
      return this.heads.map((_, c) => c).filter((c) => this.table[r][c] || this.fault(r, c)
        || (this.uses(r, c) && (this.every || this.heads[c].often)));
    },
    tell(r, c) { this.$emit("cell", [r, c, this.table[r][c]]); },
    focus(r, c) {
      this.$nextTick(() => {
        const cell = document.getElementById(this.id(r, c)) || document.getElementById(this.uid + "-row-" + r);
        if (cell) { cell.focus(); if (cell.select) cell.select(); }
      });
    },
    insert(r, cells) {
      this.table.splice(r, 0, cells);
      this.faults = {};
      this.$emit("inserted", [r, cells]);
      this.page = Math.floor(r / AT_ONCE);
      this.open = r;
      this.menu = -1;
      this.focus(r, 0);
    },
    add() { this.insert(this.table.length, this.heads.map(() => "")); },
    copy(r) { this.insert(r + 1, [...this.table[r]]); },
    remove(r) {
      this.gone = { at: r, cells: this.table[r] };
      this.table.splice(r, 1);
      this.faults = {};
      this.open = this.menu = -1;
      this.$emit("removed", r);
      if (this.table.length) this.focus(Math.min(r, this.table.length - 1), 0);
    },
    putBack() {
      const { at, cells } = this.gone;
      this.gone = null;
      this.insert(at, cells);
    },
    key(event, r, c) {
      const up = event.key === "ArrowUp" || (event.key === "Enter" && event.shiftKey);
      const down = event.key === "ArrowDown" || (event.key === "Enter" && !event.shiftKey);
      if (!(up || down) || (event.key !== "Enter" && this.heads[c].known.length)) return;
      event.preventDefault();
      const next = r + (up ? -1 : 1);
      if (next >= this.table.length && event.key === "Enter") { this.add(); this.focus(next, c); return; }
      if (next >= this.start && next < this.end) this.focus(next, c);
    },
    paste(event, r, c) {
      const text = event.clipboardData.getData("text/plain").replace(/\r\n?/g, "\n").replace(/\n+$/, "");
      if (!text.includes("\t") && !text.includes("\n")) return;
      event.preventDefault();
      const block = text.split("\n").map((line) => line.split("\t"));
      const across = block.some((cells) => c + cells.length > this.heads.length);
      if (across || r + block.length > this.table.length + 1000) return;
      block.forEach((cells, down) => {
        if (r + down === this.table.length) this.table.push(this.heads.map(() => ""));
        cells.forEach((cell, right) => { this.table[r + down][c + right] = cell.trim(); });
      });
      this.$emit("pasted", [r, c, block.map((cells) => cells.map((cell) => cell.trim()))]);
    },
  },
};
