/** Activates the choices above the table of findings: a row shows when it fits all of them. */
export function activateFilters(root: ParentNode): void {
  const form = root.querySelector<HTMLFormElement>('.filters');
  const table = root.querySelector('table.findings');
  if (!form || !table) return;
  const choices = [...form.querySelectorAll<HTMLSelectElement>('select[data-filter]')];
  const told = form.querySelector('output');
  const rows = [...table.querySelectorAll<HTMLElement>('tbody tr')];
  const apply = () => {
    let shown = 0;
    for (const row of rows) {
      const fits = choices.every(
        ({ value, dataset }) => value === '' || row.dataset[dataset['filter'] ?? ''] === value,
      );
      row.hidden = !fits;
      if (fits) shown++;
    }
    const noun = rows.length === 1 ? 'finding' : 'findings';
    if (told) told.textContent = shown === rows.length ? `${shown} ${noun}` : `${shown} of ${rows.length} ${noun}`;
  };
  form.hidden = false;
  form.addEventListener('change', apply);
  form.addEventListener('submit', (event) => event.preventDefault());
  // A link to a finding that the choices hide shows all again.
  window.addEventListener('hashchange', () => {
    const target = rows.find((row) => `#${row.id}` === location.hash);
    if (!target?.hidden) return;
    for (const choice of choices) choice.value = '';
    apply();
    target.scrollIntoView();
  });
  apply();
}
