/* A page that was made, shown in a frame of its own that may run nothing. */
export default {
  template: `
    <div class="within">
      <p class="row"><a v-if="address" class="press" :href="address" target="_blank" rel="noopener">{{ label }} in a new tab</a></p>
      <iframe v-if="text" :srcdoc="text" :title="label" sandbox=""></iframe>
      <p v-if="wrong" class="fault">✕ {{ wrong }}</p>
    </div>`,
  props: { source: String, label: String },
  data() {
    return { text: "", address: "", wrong: "" };
  },
  async mounted() {
    try {
      const answer = await fetch(this.source);
      if (!answer.ok) throw new Error();
      const text = await answer.text();
      this.address = URL.createObjectURL(new Blob([text], { type: "text/html" }));
      // Without it the ways within the page would lead to ours.
      this.text = text.replaceAll('href="#', 'href="about:srcdoc#');
    } catch {
      this.wrong = "It is no longer here; choose the wads again.";
    }
  },
  unmounted() {
    if (this.address) URL.revokeObjectURL(this.address);
  },
};
