import { listen, oneAtATime } from '/asset/live.js';
import morphdom from '/asset/morphdom.js';

const list = document.getElementById('list');
const state = document.getElementById('state');
let shown = Number(document.body.dataset.revision);

const renew = oneAtATime(async () => {
  const answer = await fetch('/list').catch(() => undefined);
  if (!answer?.ok) return;
  const fresh = list.cloneNode(false);
  fresh.innerHTML = await answer.text();
  morphdom(list, fresh);
});

listen({
  revision: (revision) => {
    state.textContent = '';
    if (revision === shown) return;
    shown = revision;
    void renew();
  },
  words: (words) => {
    state.textContent = words;
  },
});
