import { activateReport } from './activate-report.ts';
import { offerDownload } from './download.ts';
import { make, part } from './make-element.ts';
import type { PageStore } from './page-state.ts';
import type { Helper } from './worker/helper.ts';
import type { ShownJob } from './worker/messages.ts';

/** Shows a report, with what can be saved of it. */
export function showReport(body: string, jobs: readonly ShownJob[], helper: Helper): void {
  const shown = part('shown');
  // Every text from a file was escaped on its way into the report, and the page's policy runs no script from it.
  shown.innerHTML = body;
  for (const { section } of jobs) placeWhatIf(section);
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

/** Where the answer to "what if" stands: under the verdict of its job. */
function placeWhatIf(section: string): void {
  const verdict = document.querySelector(`#${section} > .verdict`);
  verdict?.after(make('div', { class: 'what-if', id: `${section}-what-if` }));
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
