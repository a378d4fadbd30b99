import type { Language } from './language.ts';

export const en: Language = {
  code: 'en',
  decimal: '.',
  templates: {
    subject: 'Your order {job}',
    greeting: 'Hello,',
    opening: 'thank you for sending {files}. We looked through it before cutting.',
    change: 'It cannot be cut as it is: please look at what follows and send us the files again.',
    question: 'Before we can say whether it can be cut, we need an answer from you.',
    ours: 'There is nothing that you need to do: what is still open has to be settled here.',
    ready: 'We found nothing that you would have to change.',
    limits:
      'This was checked by computation, before anything was cut: how a sheet behaves shows on the machine, and what we did not find may still be there.',
    closing: 'Kind regards',
  },
  headings: {
    received: 'What we received',
    checked: 'What we checked',
    mustChange: 'What has to change',
    noticed: 'What we noticed besides',
    proposals: 'What we propose',
    questions: 'What we need to know',
  },
  received: {
    artwork: '{file}: a drawing of {width} × {height} mm',
    artworkUnread: '{file}: a drawing, in which we found nothing that could be measured',
    toolpath: '{file}: a program with {length} mm of cutting',
    toolpathUnread: '{file}: a program that we could not follow',
    sheet: 'To be cut from: {material}, {thickness}',
  },
  checked: {
    artwork: 'the drawing: size, open and doubled lines, narrow places, joints',
    toolpath: 'the program: path, beam, limits of the sheet',
    match: 'whether drawing and program belong together',
    material: 'whether the material belongs in a laser cutter',
    through: 'whether the beam comes out of the other side of the sheet',
  },
  place: {
    line: '{file}, line {line}',
    file: '{file}',
    mark: 'no. {number} in {picture}',
    more: 'and in other places',
  },
  proposals: {
    stacked: '{layers} layers of {thickness} mm of the same material, cut one by one and joined afterwards',
    thinner: 'the same material, {thickness} mm thick at most',
    material: 'another material: tell us what it is for, and we will name what we can cut',
  },
  questions: {
    material:
      'Which material is it exactly? Please give the name under which it was sold, and the safety data sheet if you have it.',
    thickness: 'How thick is the sheet? Please measure it with a calliper.',
    task: 'Which lines are to go through the sheet, and which are only drawn on it?',
    toolpath: 'Part of the program could not be followed. Could you send the drawing as SVG as well?',
    artwork:
      'Part of the drawing could not be read. Is anything to be cut there? Please export it again with all shapes as paths.',
    file: 'A file that the order names did not arrive. Could you send it?',
  },
  askFor: {
    artwork: 'The drawing as SVG, with text and images turned into paths, and the material and thickness.',
    toolpath: 'The drawing as SVG, and the material and thickness.',
    sidecar: 'The description of the order once more: this one could not be read.',
    folder: 'The files of this folder one by one: it could not be opened.',
    other: 'The drawing as SVG: this kind of file is not read here.',
  },
  problems: {
    'artwork/active-content': {
      active:
        'The file carries a program or links that act when it is opened. Please export the plain drawing without them.',
    },
    'artwork/duplicate-line': {
      twice: 'Lines lie on top of each other, up to {times} times. Each copy is burnt again: please delete the copies.',
    },
    'artwork/external-reference': {
      outside: 'The drawing uses a file that is not in it. Please embed it, or send it along.',
    },
    'artwork/feature-below-kerf': {
      narrow:
        'A shape is only {width} mm wide, and the beam itself takes away {kerf} mm. Please draw it wider, or as a single line.',
    },
    'artwork/live-text': {
      text: 'There is text that depends on the fonts of a computer, the first reads {text}. Please convert text to paths.',
    },
    'artwork/low-resolution-image': {
      coarse:
        'An image has only {ppi} pixels per inch at this size (from {limit} on, single pixels do not show). Please send a larger original.',
    },
    'artwork/nearly-closed': {
      gap: 'An outline is open by {gap} mm. Please close it: the part may hang on there.',
    },
    'artwork/no-physical-size': {
      assumed:
        'The drawing does not say how large it is; we read {width} × {height} mm. Please tell us whether that is right, or export it with width and height in millimetres.',
    },
    'artwork/not-drawable': {
      left: 'Something in the drawing has no outline that could be cut and was left out. Please convert it to paths, or take it out.',
      dashed:
        'A line is drawn dashed and would be cut as a whole line. If only the dashes are meant, please draw them one by one.',
      painted:
        'A line is coloured with a gradient or a pattern. Please give it one plain colour, so that we can tell what it is for.',
      image:
        'There is an image in the drawing, from which nothing can be cut. If something in it is to be cut, please draw it as paths.',
    },
    'artwork/nothing-to-cut': {
      leftOut: 'There is no outline in the drawing that could be cut. Please draw what is to be cut as paths.',
      undrawn: 'Nothing is drawn in the file. Please look whether it is the right one.',
      blank: 'The file is blank. Please export it again.',
    },
    'artwork/off-sheet': {
      off: 'The drawing reaches {by} mm beyond the sheet of {width} × {height} mm. Please move or scale it, or choose a larger sheet.',
    },
    'artwork/open-outline': {
      open: 'An outline that is to be cut out is open by {gap} mm. Please close it, or tell us that it is meant so.',
    },
    'artwork/overlapping-parts': {
      overlap:
        'Two parts overlap at {x}, {y} mm: each would cut into the other. Please move them apart, or unite them.',
    },
    'artwork/scale-suspect': {
      suspect:
        'The drawing is {width} × {height} mm, which may be the wrong size: {factor} times that seems to be meant. Please check one length that you know.',
    },
    'artwork/self-crossing': {
      crossing:
        'An outline crosses itself at {x}, {y} mm: what lies between would fall out. Please move the points, or unite the shape.',
    },
    'artwork/slot-does-not-fit': {
      loose: 'Slots are {width} mm wide and would be loose on a sheet of {thickness} mm. {fit} mm would fit.',
      tight: 'Slots are {width} mm wide and would be too tight for a sheet of {thickness} mm. {fit} mm would fit.',
      tabs: 'Tabs are {width} mm long, and the sheet is {thickness} mm thick. Please check that this is meant.',
    },
    'artwork/unassigned-stroke': {
      unassigned: 'Some lines do not say whether they are to be cut or only drawn. Please tell us.',
    },
    'artwork/web-too-thin': {
      thin: 'Between two cuts only {width} mm would be left, and less than {limit} mm burns away or breaks. Please move the lines apart.',
      weak: 'Between two cuts only {width} mm would be left, less than the sheet is thick ({thickness} mm). If it bears load, please widen it.',
    },
    'match/extra-in-toolpath': {
      drawn: 'The program burns lines that the drawing does not have. Please tell us which of the two is right.',
    },
    'match/mirrored': {
      mirrored: 'The program is the mirror image of the drawing. Please tell us which of the two is right.',
    },
    'match/missing-in-toolpath': {
      missing: 'Lines of the drawing are missing in the program. Please tell us which of the two is right.',
    },
    'match/not-found': {
      artwork: 'Drawing and program do not seem to belong together. Please look whether both are the right files.',
    },
    'match/scale-differs': {
      scaled: 'The program is {scale} times the size of the drawing. Please tell us which of the two is right.',
    },
    'material/hazardous': {
      never: 'This material must not be put into a laser cutter, because of what it gives off. Please choose another.',
      reconsider:
        'This material gives off what can harm people or machines. We have to see its safety data sheet first; please consider another.',
    },
    'material/not-cut-by-source': {
      through:
        'Our laser does not cut this material; it can only mark its surface. Please tell us whether that would do.',
      groove:
        'Our laser leaves no groove in this material; it can only mark its surface. Please tell us whether that would do.',
    },
    'material/transparent-to-source': {
      transparent:
        'The light of our laser passes through this material and leaves nothing in it. Please choose another.',
    },
    'material/thickness-implausible': {
      unusual: 'A thickness of {thickness} mm is unusual for this material. Please measure the sheet.',
      absurd: 'A thickness of {thickness} mm cannot be right. Please measure the sheet.',
    },
    'material/unknown': {
      declared: 'The material is not known. Without its safety data sheet we cannot put it under the beam.',
      notFound:
        'We do not know a material of this name. Please give the name under which it was sold, and its safety data sheet.',
      kindOnly: 'The name of the material does not say which kind it is, and what it gives off depends on that.',
      likeHazardous:
        'The name of the material is like one that must not be cut without further questions. Please send its safety data sheet.',
    },
    'input/syntax':
      'The file is not written as its kind of file asks, and a machine may read it otherwise. Please export it again, a drawing as plain SVG.',
    'input/unreadable': {
      unreadable: 'A file that belongs to the order is missing or cannot be opened. Please send it again.',
    },
    'toolpath/off-sheet': {
      off: 'The program leaves the sheet of {width} × {height} mm by {by} mm. Please move the job, or choose a larger sheet.',
      tooLarge:
        'The program needs {size} mm, and the sheet has {width} × {height} mm. Please choose a larger sheet, or split the job.',
    },
    'toolpath/off-bed': {
      tooLarge: 'The job is {size} mm long, which is more than we can cut in one piece. Please split it.',
    },
    'toolpath/wrong-kind': {
      kind: 'The program was written for another kind of machine. Please send the drawing, or a program for a laser cutter.',
    },
    'toolpath/not-analysed': {
      incomplete:
        'The program uses commands that we cannot follow. Please send it as plain moves, or send the drawing.',
      code: 'The program uses a command that we do not know. Please leave it out, or send the drawing.',
      blockDelete: 'Some lines of the program are marked as optional. Please take out the lines or their marks.',
      unfollowed: 'The program could not be followed to its end. Please export it again, or send the drawing.',
    },
    'toolpath/units-suspect': {
      changed: 'The program changes between inches and millimetres on its way. Please export it in millimetres.',
      ahead: 'The program states inches and millimetres both. Please export it in millimetres.',
      mixed: 'The program states its units in two ways that contradict each other. Please export it in millimetres.',
      large:
        'The program measures {width} × {height} mm, which is probably the wrong unit. Please export it in millimetres.',
      small: 'The program measures {width} × {height} mm, much less than the drawing. Please export it in millimetres.',
      notStated:
        'The program does not say whether it is in inches or millimetres; we read millimetres. Please tell us whether that is right.',
    },
    'cut/out-of-reach': { outOfReach: 'A sheet this thick of this material is more than our laser goes through.' },
  },
};
