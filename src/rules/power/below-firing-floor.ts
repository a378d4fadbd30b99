import { defineRule } from '../rule.ts';
import { formatCount, formatPercent, listed, mm, roundTo } from '../wording.ts';

export default defineRule({
  id: 'power/below-firing-floor',
  summary: 'Cuts are set below the power at which the source fires.',
  severity: 'error',
  since: '0.1.0',
  reads: ['toolpath', 'sidecar', 'machine'],
  searches: ['tasks', 'passes'],
  messages: {
    below:
      'The setting of {setting} on {tasks} ({cuts}, {length} mm) is below the firing floor of {floor}. Raise it to {floor} or more and the speed in proportion. Below the floor in the machine’s profile the source will not fire, or only in bursts.',
    image:
      'The strongest tone of the raster area is {setting}, below the firing floor of {floor}. Raise the power of the area above {floor}. Below the floor in the machine’s profile nothing of it will show.',
  },
  example:
    'The setting of 6 % on "outline" (1 cut, 300.0 mm) is below the firing floor of 10 %. Raise it to 10 % or more and the speed in proportion. Below the floor in the machine’s profile the source will not fire, or only in bursts.',
  options: {},
  why: 'A glass tube does not fire below a certain current, and near it fires irregularly: the line is missing or dotted, and the sheet has to be cut again out of register. Faint tones of a picture below the floor are ordinary and are not reported; a whole area below it is. For an area it is a warning.',
  remedy:
    'Raise setting and speed together, so that the energy per millimetre stays. If the source does fire there, correct `source.floor`.',
  sources: ['The floor comes from the machine’s profile', 'That glass tubes have one: common practice, no source'],
  check(facts) {
    const floor = facts.machine?.source.floor ?? null;
    if (facts.machine === null) return { notApplicable: 'the machine is not known' };
    if (floor === null) return { notApplicable: 'the machine’s profile states no firing floor' };
    if (facts.powerScale !== null) return { notApplicable: 'it is not settled on which scale power is counted' };
    const isBelow = (setting: number) => setting > 0 && roundTo(setting, 4) < roundTo(floor, 4);
    const low = facts.cuts.filter((cut) => cut.passes.some((pass) => isBelow(pass.setting)));
    const first = low[0];
    const areas = (facts.toolpath?.areas ?? []).filter((area) => isBelow(area.maxSetting));
    const found = areas.slice(0, 1).map((area) => ({
      messageId: 'image',
      severity: 'warning' as const,
      args: { setting: formatPercent(area.maxSetting), floor: formatPercent(floor) },
      location: { ...area.place, file: facts.input.files.toolpath ?? facts.input.home.file },
      subject: 'image',
    }));
    if (first === undefined) return found;
    const lowest = low
      .flatMap((cut) => cut.passes.map((pass) => pass.setting))
      .filter(isBelow)
      .reduce((least, setting) => Math.min(least, setting));
    return [
      {
        messageId: 'below',
        args: {
          setting: formatPercent(lowest),
          tasks: listed([...new Set(low.map((cut) => cut.task))]),
          cuts: formatCount(low.length, 'cut'),
          length: mm(low.reduce((sum, cut) => sum + cut.lengthMm, 0)),
          floor: formatPercent(floor),
        },
        location: first.settingLocation,
        subject: first.task,
      },
      ...found,
    ];
  },
});
