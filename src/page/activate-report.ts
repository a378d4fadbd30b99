import { activateFilters } from './findings-filter.ts';
import { ZoomableMap } from './zoomable-map.ts';

/** Activates what a report can do beyond being read: its maps, the links that lead into them, and the filters of its findings. */
export function activateReport(root: ParentNode): void {
  const maps = [...root.querySelectorAll<HTMLElement>('[data-map]')].flatMap((figure) => {
    const svg = figure.querySelector<SVGSVGElement>('.view svg');
    return svg ? [new ZoomableMap(figure, svg)] : [];
  });
  for (const map of maps) map.activate();
  activateFilters(root);
  const open = (id: string) => {
    openTarget(root, id);
    for (const map of maps) map.jumpTo(id);
  };
  const byAddress = () => open(decodeURIComponent(location.hash.slice(1)));
  byAddress();
  window.addEventListener('hashchange', byAddress);
  // A second click on the same link changes no address, and is to lead there all the same.
  root.addEventListener('click', (event) => {
    const link = (event.target as Element).closest<HTMLAnchorElement>('a[href^="#"]');
    if (link && link.hash === location.hash && !event.defaultPrevented) byAddress();
  });
}

/** What a link leads to may lie in a closed part of the page. */
function openTarget(root: ParentNode, id: string): void {
  if (id === '') return;
  const target = root.querySelector(`[id="${CSS.escape(id)}"]`);
  for (let at = target?.closest('details'); at; at = at.parentElement?.closest('details')) at.open = true;
}
