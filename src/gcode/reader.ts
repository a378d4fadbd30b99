import type { ToolpathReader } from '../model/reader.ts';
import { GCODE, GCODE_PROBLEMS } from './problem-texts.ts';

/** A word that begins a line of nearly every program, after a line number or the slash of block delete. */
const FIRST_WORDS = /^[ \t/]*(?:N[ \t]*\d+[ \t]*)?[GM][ \t]*\d/im;

/** Nothing but words, a letter and a number each, and a checksum; without blanks. */
const WORDS_ALONE = /^\/?(?:[A-Z][-+]?(?:\d+(?:\.\d*)?|\.\d+))+(?:\*\d+)?$/;
/** G0 to G3 and an axis to move. */
const MOTION = /G0*[0-3](?:[^\d.]|$)/;
const AXIS = /[XYZ][-+.\d]/;

/** Whether a line of the text moves an axis and is nothing but a line of a program: a list of plots "G1", "G2" is none. */
function holdsMotion(text: string): boolean {
  return text.split(/[\r\n]/).some((line) => {
    const words = line
      .replace(/;.*|\([^)]*\)?/g, '')
      .replace(/\s/g, '')
      .toUpperCase();
    return MOTION.test(words) && AXIS.test(words) && WORDS_ALONE.test(words);
  });
}

/** G-code in the dialect of RS274/NGC and what later controllers added to it. */
export const gcodeReader: ToolpathReader = {
  id: GCODE,
  makes: 'toolpath',
  name: 'G-code',
  extensions: ['.gcode', '.nc', '.ngc', '.tap', '.cnc', '.gc', '.gco', '.g'],
  recognises: (head) => !head.includes(0) && FIRST_WORDS.test(new TextDecoder().decode(head)),
  uncertain: {
    extensions: ['.txt', ''],
    tells: (head) => !head.includes(0) && holdsMotion(new TextDecoder().decode(head)),
  },
  comments: [
    { opens: '(', closes: ')', mayStayOpen: true },
    { opens: ';', closes: null },
  ],
  // What is not plain ASCII are comments, and those are read as UTF-8.
  asUtf8: (source) => source,
  problems: GCODE_PROBLEMS,
  standard: 'RS274/NGC [NISTIR-6556], ISO 6983-1:2009',
  load: async () => ({
    read: (await import('./read.ts')).readToolpath,
    edit: async (source, options) => new (await import('./edit/editor.ts')).GcodeEditor(source, options),
  }),
};
