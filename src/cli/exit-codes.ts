/** What the exit code of a run says, whatever the format. */
export const EXIT = { fine: 0, findings: 1, usage: 2, incomplete: 3 } as const;

export const EXIT_HELP = `Exit codes, whatever the format:
  0    nothing found at or above --fail-on
  1    findings at or above --fail-on, or more warnings than --max-warnings
  2    usage or configuration: the command line, .kerflint.yaml, --shop, a path that matches nothing
  3    incomplete: something could not be checked, so nothing can be said about it
  130  interrupted
3 beats 1; 2 beats both.`;
