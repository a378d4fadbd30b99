import { activateReport } from './activate-report.ts';
import { offerDownload } from './download.ts';
import { make, part } from './make-element.ts';
import type { PageStore } from './page-state.ts';
import { mountWhatIf } from './what-if/mount-what-if.ts';
import type { Helper } from './worker/helper.ts';
import type { ShownJob } from './worker/messages.ts';

/** Shows a report, with what can be saved of it. */
export function showReport(body: string, jobs: readonly ShownJob[], helper: Helper): void {
  const shown = part('shown');
  // Every text from a file was escaped on its way into the report, and the page's policy runs no script from it.
  shown.innerHTML = body;
  for (const job of jobs) placeWhatIf(job, helper);
  const drafts = jobs.flatMap(({ draftFor }) => draftFor ?? []);
  part('save-sidecars').replaceChildren(
    ...drafts.map((file) => {
      const button = make('button', { type: 'button' }, `Save the sidecar of ${file}`);
      button.addEventListener('click', async () => {
        const { name, text } = await helper.ask('sidecar', { file });
        offerDownload(name.slice(name.lastIndexOf('/') + 1), 'text/yaml', text);
      });
      return button;
    }),
  );
  activateReport(shown);
  const heading = shown.querySelector('h1');
  heading?.setAttribute('tabindex', '-1');
  heading?.focus();
}

/** "What if" stands between what its job is decided by and the card; of a job that was not judged, at the end. */
function placeWhatIf({ section, index }: ShownJob, helper: Helper): void {
  const place = make('div', { class: 'what-if', id: `${section}-what-if` });
  const job = part(section);
  const decision = job.querySelector(':scope > .decision');
  if (decision) decision.after(place);
  else job.append(place);
  void mountWhatIf(place, {
    plan: () => helper.ask('plan', { job: index }),
    try: (change, shown) => helper.ask('try', { job: index, change, shown }),
    tryWhole: (change) => helper.ask('tryWhole', { job: index, change }),
    saveTried: async (change) =>
      offerDownload('what-if.json', 'application/json', await helper.ask('saveTried', { job: index, change })),
  });
}

/** The buttons above the report. */
export function offerSaving(store: PageStore, helper: Helper): void {
  part('save-html').addEventListener('click', async () => {
    offerDownload('report.html', 'text/html', await helper.ask('save', { as: 'html' }));
  });
  part('save-json').addEventListener('click', async () => {
    offerDownload('result.json', 'application/json', await helper.ask('save', { as: 'json' }));
  });
  part('again').addEventListener('click', () => store.set({ view: 'form' }));
}
