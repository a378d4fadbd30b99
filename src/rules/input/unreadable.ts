import { defineRule } from '../rule.ts';

export default defineRule({
  id: 'input/unreadable',
  summary: 'A file of the job cannot be read.',
  severity: 'error',
  since: '0.1.0',
  reads: ['sidecar', 'toolpath', 'artwork', 'machine', 'material'],
  messages: {
    unreadable:
      '{text} Put the file in place, or correct its name where it is named. Nothing that rests on this file was checked.',
  },
  forCustomers: { unreadable: [] },
  example:
    'toolpath: there is no file "dividers.gcode": did you mean divider.gcode? Put the file in place, or correct its name where it is named. Nothing that rests on this file was checked.',
  options: {},
  why: 'What cannot be read cannot be checked, so the job is incomplete and cannot pass.',
  remedy:
    'Check that the name is right relative to the sidecar, that it is a file and not a folder, that it lies inside the root and that it may be read.',
  sources: ['A consequence of this project’s own rules; no outside source'],
  check(facts) {
    return facts.inputProblems
      .filter((one) => one.unreadable)
      .map(({ file, problem }) => ({
        messageId: 'unreadable',
        args: { text: sentence(problem.args['text'] ?? problem.args['reason'] ?? `${file} cannot be read`) },
        location: { ...problem.place, file: 'file' in problem.place ? String(problem.place.file) : file },
        subject: file,
      }));
  },
});

function sentence(text: string | number): string {
  const said = String(text).trim();
  return /[.!?]$/.test(said) ? said : `${said}.`;
}
