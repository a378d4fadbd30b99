import { activateFilters } from './findings-filter.ts';
import { ZoomableMap } from './zoomable-map.ts';

/** Activates what a report can do beyond being read: its maps and the filters of its findings. */
export function activateReport(root: ParentNode): void {
  for (const figure of root.querySelectorAll<HTMLElement>('[data-map]')) {
    const svg = figure.querySelector<SVGSVGElement>('.view svg');
    if (svg) new ZoomableMap(figure, svg).activate();
  }
  activateFilters(root);
  openTarget(root);
  window.addEventListener('hashchange', () => openTarget(root));
}

/** What a link leads to may lie in a closed part of the page. */
function openTarget(root: ParentNode): void {
  const id = decodeURIComponent(location.hash.slice(1));
  if (id === '') return;
  const target = root.querySelector(`[id="${CSS.escape(id)}"]`);
  for (let at = target?.closest('details'); at; at = at.parentElement?.closest('details')) at.open = true;
}
