import type { PageState, PageStore, View } from './page-state.ts';

/** What the browser keeps of a step, for Back: what is seen, and what was typed. */
interface Step {
  view: View;
  typed: PageState['typed'];
}

/**
 * Each view is a step of the browser's history: Back leads from the report to the questions and the form, with all that was given and
 * typed. What was typed also outlives that the page is left and come back to.
 */
export function keepHistory(store: PageStore): void {
  const before = stepOf(history.state);
  if (before !== null) store.set({ typed: { ...store.state.typed, ...before.typed } });
  const note = () => history.replaceState({ view: store.state.view, typed: store.state.typed } satisfies Step, '');
  note();
  let goingBack = false;
  store.onChange((state, last) => {
    if (state.view === last.view || goingBack) return;
    history.pushState({ view: state.view, typed: state.typed } satisfies Step, '');
  });
  document.addEventListener('change', note);
  addEventListener('pagehide', note);
  addEventListener('popstate', ({ state }) => {
    // A link inside the report makes a step of its own, without a view: it is one of the report.
    const view = stepOf(state)?.view ?? 'report';
    if (view === 'report' && store.state.jobs.length === 0) return;
    if (view === 'ask' && store.state.asked.length === 0) return;
    goingBack = true;
    store.set({ view });
    goingBack = false;
  });
}

function stepOf(state: unknown): Step | null {
  return typeof state === 'object' && state !== null && 'view' in state && 'typed' in state ? (state as Step) : null;
}
