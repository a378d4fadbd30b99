/**
 * Where the artwork reader and the browser disagree, each with its reason. `element` is the id, or the tag and its position
 * in the file. A row that no longer disagrees fails the test too.
 */
export interface Difference {
  file: string;
  element: string;
  reason: string;
}

const POINTS =
  'SVG 2 §10.6 wants a shape with an error in its points drawn up to the error; Chromium drops all of it. The reader draws and reports.';
const NO_AREA = 'A page of no size shows nothing; the browser lays the shapes out all the same.';
const FONT = 'The unit depends on a font; the reader looks up none and takes a typical proportion.';

const ROOT_DISPLAY =
  'CSS Display 3 §2.5: an element with `display: none` makes no box; Chromium draws the outermost svg all the same.';

const FILL_ONLY = 'The outline lies wholly outside its clip and is not cut; what the browser shows is the fill alone.';

export const DIFFERENCES: readonly Difference[] = [
  { file: 'corpus/svg/painting/display/none-on-svg.svg', element: 'rect1', reason: ROOT_DISPLAY },
  { file: 'corpus/svg/painting/display/none-on-svg.svg', element: 'frame', reason: ROOT_DISPLAY },
  { file: 'fixtures/artwork/path-data.svg', element: 'stopped', reason: POINTS },
  {
    file: 'fixtures/artwork/path-data.svg',
    element: 'round-percent',
    reason: 'SVG 2 §10.2: a radius of `auto` takes the other one; Chromium reads the attribute value `auto` as 0.',
  },
  { file: 'corpus/svg/shapes/polygon/stop-processing-on-invalid-data.svg', element: 'polygon1', reason: POINTS },
  { file: 'corpus/svg/shapes/rect/cap-values.svg', element: 'rect1', reason: FONT },
  { file: 'corpus/svg/shapes/rect/rlh-values.svg', element: 'rect1', reason: FONT },
  { file: 'corpus/svg/structure/svg/zero-size.svg', element: 'rect1', reason: NO_AREA },
  { file: 'corpus/svg/structure/svg/zero-size.svg', element: 'frame', reason: NO_AREA },
  { file: 'corpus/svg/painting/display/none-on-clipPath.svg', element: 'rect1', reason: FILL_ONLY },
  { file: 'corpus/svg/structure/systemLanguage/on-clipPath.svg', element: 'rect1', reason: FILL_ONLY },
  {
    file: 'corpus/svg/structure/transform-origin/on-clippath-objectBoundingBox.svg',
    element: 'rect2',
    reason: FILL_ONLY,
  },
  {
    file: 'fixtures/artwork/clips.svg',
    element: 'nothing-left',
    reason: 'An empty clipPath hides it; layout boxes know no clips (the hit test of the clip comparison agrees).',
  },
];
