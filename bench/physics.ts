import { focusBeam } from '../src/physics/beam/focused-beam.ts';
import { type CutInput, predictCut } from '../src/physics/doubt/predict.ts';
import { evenPasses } from '../src/physics/march/passes.ts';
import { findRemedies } from '../src/physics/search/find-remedies.ts';

/**
 * Time of one prediction and of one search for remedies. Method: each case is warmed up, then run in nine rounds of a
 * fixed count; the median round's processor time is shown, in ms a call, since other work on the machine stretches the
 * clock but not that. No case is remembered between calls.
 */

const beamOf = (focalIn: number) =>
  focusBeam({
    wavelengthUm: 10.6,
    diameterMm: 7,
    m2: 1.2,
    focalMm: focalIn * 25.4,
    shape: 'meniscus',
    lensMaterial: 'ZnSe',
    spotMm: null,
  });

const cut = (passes: number, focusStepMm: number): CutInput => ({
  beam: beamOf(2),
  stock: {
    removalJPerMm3: 3.5,
    divergenceShare: 0.15,
    conductivityWPerMK: 0.12,
    diffusivityMm2PerS: 0.17,
    temperatureRiseK: 300,
  },
  doubt: { removal: 0.25, divergence: { low: 0.05, high: 0.4 }, power: 0.15, focusMm: 0.5, thicknessMm: 0.1 },
  passes: evenPasses({ passes, powerW: 50, speedMmPerS: 14, focusMm: 0, focusStepMm }),
  thicknessMm: 9,
  bowMm: 0,
});

function time(name: string, count: number, run: () => unknown): void {
  for (let i = 0; i < count; i++) run();
  const rounds = Array.from({ length: 9 }, () => {
    const start = process.cpuUsage();
    for (let i = 0; i < count; i++) run();
    const { user, system } = process.cpuUsage(start);
    return (user + system) / 1000 / count;
  }).sort((a, b) => a - b);
  console.log(`${name.padEnd(44)} ${rounds[4]!.toFixed(3)} ms`);
}

for (const [passes, step] of [
  [1, 0],
  [3, 0],
  [3, -2],
  [6, -1],
  [10, -0.5],
] as const) {
  time(`predict, passes ${passes}, focus step ${step} mm`, 40, () => predictCut(cut(passes, step)));
}
const powerChoices = Array.from({ length: 85 }, (_, i) => ({ fraction: (i + 1) / 100, powerW: 0.7 * (i + 1) }));
for (const [name, maxPasses] of [
  ['CO₂, 3 passes at most', 3],
  ['diode, 10 passes at most', 10],
] as const) {
  time(`remedies, ${name}`, 3, () =>
    findRemedies({
      cut: cut(1, 0),
      limit: 0.9,
      powerChoices,
      cleanSpeedMmPerS: 4,
      maxPasses,
      focusMoves: true,
      otherLenses: [
        { id: '1.5in', cut: { ...cut(1, 0), beam: beamOf(1.5) }, limit: 0.9 },
        { id: '4in', cut: { ...cut(1, 0), beam: beamOf(4) }, limit: 0.9 },
      ],
    }),
  );
}
