/* Takes one file, chosen or dropped, and hands it to the server. */
export default {
  template: `
    <div class="drop" :class="{over: over}" @dragover.prevent="over = true" @dragleave="over = false"
      @drop.prevent="dropped">
      <label :for="uid">{{ label }}</label>
      <input type="file" :id="uid" :accept="accept" @change="send($event.target.files[0])"
        :aria-describedby="uid + '-hint'">
      <p class="hint" :id="uid + '-hint'">{{ hint }}</p>
      <p v-if="words" :class="wrong ? 'fault' : 'hint'" role="status">{{ words }}</p>
    </div>`,
  props: { uid: String, label: String, hint: String, accept: String },
  data() {
    return { over: false, words: "", wrong: false };
  },
  methods: {
    dropped(event) {
      this.over = false;
      if (event.dataTransfer.files.length) this.send(event.dataTransfer.files[0]);
    },
    async send(file) {
      if (!file) return;
      this.wrong = false;
      this.words = "Taking " + file.name + " …";
      try {
        const answer = await fetch("/take?name=" + encodeURIComponent(file.name), {
          method: "POST", body: file, headers: { "content-type": "application/octet-stream" },
        });
        const told = await answer.json();
        this.wrong = !answer.ok;
        this.words = answer.ok ? file.name + " is here." : "✕ " + told.words;
        if (answer.ok) this.$emit("taken", told.name);
      } catch {
        this.wrong = true;
        this.words = "✕ The file did not arrive. Try again.";
      }
    },
  },
};
