import { wakeFilters } from './findings-filter.ts';
import { SheetMap } from './sheet-map.ts';

/** Wakes what a report can do beyond being read: its maps and the filters of its findings. */
export function wakeReport(root: ParentNode): void {
  for (const figure of root.querySelectorAll<HTMLElement>('[data-map]')) {
    const svg = figure.querySelector<SVGSVGElement>('.view svg');
    if (svg) new SheetMap(figure, svg).wake();
  }
  wakeFilters(root);
  openTarget(root);
  window.addEventListener('hashchange', () => openTarget(root));
}

/** What a link leads to may lie in a closed part of the page. */
function openTarget(root: ParentNode): void {
  const id = decodeURIComponent(location.hash.slice(1));
  if (id === '') return;
  const target = root.querySelector(`[id="${CSS.escape(id)}"]`);
  const around = target?.closest('details');
  if (around) around.open = true;
}
