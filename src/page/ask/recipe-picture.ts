import type { RecipesFound } from '../../bench/sidecar/recipes-found.ts';
import { coordinate, type Picture, rectangle } from '../../report/pictures/picture-parts.ts';

/** Sides of the picture and what stays free around the lines, in CSS px at its own size. */
const SIZE = { width: 180, height: 130, margin: 8 };

/** Where a recipe lies in its program: its own lines bold, all others thin. To scale, Y up; true to about a hundredth of the picture. */
export function recipePicture({ recipes, view }: RecipesFound, index: number): Picture {
  const title = 'Where these lines lie, bold among all that the program cuts';
  const { width, height, margin } = SIZE;
  const picture = { viewBox: { x: 0, y: 0, width, height }, title, description: '' };
  if (view === null) return { ...picture, body: '' };
  const across = Math.max(view.maxX - view.minX, 1e-6);
  const along = Math.max(view.maxY - view.minY, 1e-6);
  const scale = Math.min((width - 2 * margin) / across, (height - 2 * margin) / along);
  const left = (width - across * scale) / 2;
  const top = (height - along * scale) / 2;
  const pathOf = (lines: readonly (readonly number[])[]) =>
    lines
      .map((line) => {
        let d = '';
        for (let i = 0; i + 1 < line.length; i += 2) {
          const x = left + (line[i]! - view.minX) * scale;
          const y = top + (view.maxY - line[i + 1]!) * scale;
          d += `${i === 0 ? 'M' : 'L'}${coordinate(x)} ${coordinate(y)}`;
        }
        return d;
      })
      .join('');
  const others = recipes.filter((_, i) => i !== index).flatMap(({ lines }) => lines);
  const body = [
    rectangle(left, top, across * scale, along * scale, 'p-sheet'),
    `<path class="p-artwork" d="${pathOf(others)}"/>`,
    `<path class="p-line" d="${pathOf(recipes[index]?.lines ?? [])}"/>`,
  ].join('');
  return { ...picture, body };
}
