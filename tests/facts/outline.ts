/** Artwork of one outline, 20 × 15 mm, of which nothing else is said. */
export const OUTLINE =
  '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="60mm" viewBox="0 0 100 60"><path d="M10 20H30V35H10Z" fill="none" stroke="#9c36b5"/></svg>';
