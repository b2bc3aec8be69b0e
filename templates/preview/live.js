/**
 * Listens for what is new. A page that nobody sees lets go of its connection, since a browser keeps few of them to one address; when it
 * is seen again it asks what is new since its own revision.
 *
 * @param {{ revision: (revision: number) => void, words: (words: string) => void }} told
 */
export function listen(told) {
  const { session } = document.body.dataset;
  let source;
  const open = () => {
    if (source) return;
    source = new EventSource('/events');
    source.addEventListener('session', ({ data }) => {
      // Another run of the preview: pages, scripts and the token may be others.
      if (data !== session) location.reload();
    });
    source.addEventListener('revision', ({ data }) => told.revision(Number(data)));
    source.addEventListener('working', () => told.words('computing …'));
    source.addEventListener('error', () => told.words('The preview does not answer. Start it again, and this page goes on.'));
  };
  const close = () => {
    source?.close();
    source = undefined;
  };
  document.addEventListener('visibilitychange', () => (document.hidden ? close() : open()));
  // A page that comes out of the browser's memory of pages has a connection that ended.
  window.addEventListener('pagehide', close);
  window.addEventListener('pageshow', open);
  if (!document.hidden) open();
}

/**
 * One after the other, and of those that are asked for meanwhile only one more.
 *
 * @param {() => Promise<void>} work
 */
export function oneAtATime(work) {
  let running = false;
  let again = false;
  return async () => {
    if (running) {
      again = true;
      return;
    }
    running = true;
    try {
      do {
        again = false;
        await work();
      } while (again);
    } finally {
      running = false;
    }
  };
}
