import { isAssumed, SCALE_IN_DOUBT } from '../machine.ts';
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
    assumed:
      'The setting of {setting} on {tasks} ({cuts}, {length} mm) is below {floor}. Try whether the source fires there and state its floor in the machine’s profile, which states none. A floor of {floor} is assumed, as usual for glass tubes.',
    image:
      'The strongest tone of the raster area is {setting}, below the firing floor of {floor}. Raise the power of the area above {floor}. Below the floor in the machine’s profile nothing of it will show.',
  },
  example:
    'The setting of 6 % on "outline" (1 cut, 300.0 mm) is below the firing floor of 10 %. Raise it to 10 % or more and the speed in proportion. Below the floor in the machine’s profile the source will not fire, or only in bursts.',
  options: {},
  why: 'A glass tube does not fire below a certain current, and near it fires irregularly: the line is missing or dotted, and the sheet has to be cut again out of register. Faint tones of a picture below the floor are ordinary and are not reported; a whole area below it is. For an area it is a warning. Where the profile states no floor, 10 % is assumed of a CO₂ source, as usual for a glass tube; cuts below that are a note, and areas are not looked at.',
  remedy:
    'Raise setting and speed together, so that the energy per millimetre stays. If the source does fire there, correct `source.floor`.',
  sources: [
    'The floor comes from the machine’s profile',
    'That glass tubes have one: common practice, no source',
    'The assumed 10 %: memory',
  ],
  check(facts) {
    const floor = facts.machine?.source.floor ?? null;
    const { machine } = facts;
    if (machine === null) return { notApplicable: 'the machine is not known' };
    if (facts.scaleDoubt !== null) return SCALE_IN_DOUBT;
    const assumed = isAssumed(machine, 'source.floor');
    if (floor === null) return { notApplicable: 'the machine’s profile states no firing floor' };
    const isBelow = (setting: number) => setting > 0 && roundTo(setting, 4) < roundTo(floor, 4);
    const low = facts.cuts.filter((cut) => cut.passes.some((pass) => isBelow(pass.setting)));
    const first = low[0];
    const areas = assumed ? [] : (facts.toolpath?.areas ?? []).filter((area) => isBelow(area.maxSetting));
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
        messageId: assumed ? 'assumed' : 'below',
        ...(assumed ? { severity: 'note' as const } : {}),
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
