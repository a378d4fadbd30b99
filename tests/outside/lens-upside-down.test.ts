import { describe, expect, it } from 'vitest';
import { focusBeam, upsideDownBeam } from '../../src/physics/beam/focused-beam.ts';
import { blurFactor, upsideDownBlurFactor } from '../../src/physics/beam/lens.ts';
import { UPSIDE_DOWN_LOWER_MM } from '../../src/physics/diagnosis/fault-table.ts';

// Rays by Snell's law through spherical faces, no thin-lens formula: an account of its own of what a lens does that was put in upside
// down. ZnSe at 10.6 µm: n = 2.4028 ([REFRACTIVEINDEX]: [CONNOLLY-1979]). Lens sizes: memory.
const N = 2.4028;

interface Face {
  /** Where the axis meets it. */
  vertexMm: number;
  /** Centre of its sphere on the axis; infinite for a plane. */
  centreMm: number;
}
interface Ray {
  zMm: number;
  heightMm: number;
  angleRad: number;
}

/** The ray behind a face: where they meet, and refracted there. */
function through(ray: Ray, face: Face, before: number, behind: number): Ray {
  const along = { z: Math.cos(ray.angleRad), h: Math.sin(ray.angleRad) };
  if (!Number.isFinite(face.centreMm)) {
    const way = (face.vertexMm - ray.zMm) / along.z;
    const heightMm = ray.heightMm + way * along.h;
    return { zMm: face.vertexMm, heightMm, angleRad: Math.asin((before / behind) * along.h) };
  }
  const radius = face.vertexMm - face.centreMm;
  const from = { z: ray.zMm - face.centreMm, h: ray.heightMm };
  const half = from.z * along.z + from.h * along.h;
  const root = Math.sqrt(half * half - (from.z * from.z + from.h * from.h - radius * radius));
  const way = radius < 0 ? -half - root : -half + root;
  const at = { z: from.z + way * along.z, h: from.h + way * along.h };
  const normal = Math.asin(at.h / -radius);
  const incidence = ray.angleRad + normal;
  return {
    zMm: at.z + face.centreMm,
    heightMm: at.h,
    angleRad: Math.asin((before / behind) * Math.sin(incidence)) - normal,
  };
}

/** Where a ray that comes in along the axis at a height crosses it behind both faces. */
function crossingMm(heightMm: number, faces: readonly [Face, Face]): number {
  const inside = through({ zMm: -50, heightMm, angleRad: 0 }, faces[0], 1, N);
  const out = through(inside, faces[1], N, 1);
  return out.zMm - out.heightMm / Math.tan(out.angleRad);
}

const sagMm = (curvature: number, rimMm: number) =>
  curvature === 0 ? 0 : 1 / curvature - Math.sign(curvature) * Math.sqrt(1 / curvature ** 2 - rimMm ** 2);

/** A lens by the curvatures of its upper and lower face (1/mm, centre below positive), resting with its lower rim on a ledge at 0. */
function lens(upper: number, lower: number, thickMm: number, rimMm: number): [Face, Face] {
  const lowest = -sagMm(lower, rimMm);
  const face = (vertexMm: number, curvature: number) => ({ vertexMm, centreMm: vertexMm + 1 / curvature });
  return [face(lowest - thickMm, upper), face(lowest, lower)];
}

/** K: 1 plano-convex, the bulge up; n(2n+1)/[2(n+2)] the meniscus of least blur. */
const BENDING = { 'plano-convex': 1, meniscus: (N * (2 * N + 1)) / (2 * (N + 2)) };

function bothWays(shape: keyof typeof BENDING, focalMm: number, thickMm: number, rimMm: number) {
  const total = 1 / (focalMm * (N - 1));
  const upper = BENDING[shape] * total;
  const lower = upper - total;
  return { upright: lens(upper, lower, thickMm, rimMm), turned: lens(-lower, -upper, thickMm, rimMm) };
}

describe.each(['plano-convex', 'meniscus'] as const)('a %s lens put in upside down', (shape) => {
  it('has its waist lower by what the table of faults says, for lenses of 1.5 to 4 in, 2 to 4 mm thick, 18 and 20 mm wide', () => {
    const lower = [1.5, 2, 2.5, 4].flatMap((focalIn) =>
      [2, 3, 4].flatMap((thickMm) =>
        [9, 10].map((rimMm) => {
          const { upright, turned } = bothWays(shape, focalIn * 25.4, thickMm, rimMm);
          return crossingMm(0.2, turned) - crossingMm(0.2, upright);
        }),
      ),
    );
    expect(Math.min(...lower)).toBeCloseTo(UPSIDE_DOWN_LOWER_MM[shape].mild, 0);
    expect(Math.min(...lower)).toBeGreaterThanOrEqual(UPSIDE_DOWN_LOWER_MM[shape].mild - 0.05);
    expect(Math.max(...lower)).toBeLessThanOrEqual(UPSIDE_DOWN_LOWER_MM[shape].worst + 0.05);
    expect(Math.max(...lower)).toBeGreaterThan(UPSIDE_DOWN_LOWER_MM[shape].worst - 0.2);
  });

  // Third-order theory says by what factor blur grows; rays 2 mm off the axis of a lens as good as thin miss the focus of those near it by
  // lengths of the same ratio.
  it('blurs by as many times more as the rays say', () => {
    const { upright, turned } = bothWays(shape, 50.8, 0.2, 5);
    const missMm = (faces: [Face, Face]) => crossingMm(0.1, faces) - crossingMm(2, faces);
    const times = missMm(turned) / missMm(upright);
    expect(times / (upsideDownBlurFactor(shape, N) / blurFactor(shape, N))).toBeCloseTo(1, 1);
    expect(times).toBeGreaterThan(3);
  });
});

describe('the spot of a lens put in upside down', () => {
  const input = {
    wavelengthUm: 10.6,
    diameterMm: 7,
    m2: 1.2,
    focalMm: 50.8,
    shape: 'plano-convex' as const,
    lensMaterial: 'ZnSe',
    spotMm: null,
  };

  it('has the blur of the other way round, 3.2 times as much for a plano-convex one (docs/model.md)', () => {
    const upright = focusBeam(input);
    const turned = upsideDownBeam(input)!;
    expect(turned.blurMm / upright.blurMm).toBeCloseTo(3.2, 1);
    expect(turned.spotMm).toBeCloseTo(focusBeam({ ...input, shape: 'plano-convex-reversed' }).spotMm, 12);
    expect(turned.cone).toBe(upright.cone);
  });

  it('adds to a measured spot what it blurs more', () => {
    const turned = upsideDownBeam({ ...input, spotMm: { xMm: 0.15, yMm: 0.12 } })!;
    const addedMm = upsideDownBeam(input)!.blurMm - focusBeam(input).blurMm;
    expect(turned.spotXMm).toBeCloseTo(0.15 + addedMm, 12);
    expect(turned.spotYMm).toBeCloseTo(0.12 + addedMm, 12);
    expect(turned.spotMm).toBeCloseTo(0.15 + addedMm, 12);
  });

  it('is none where the profile has the lens upside down already', () => {
    expect(upsideDownBeam({ ...input, shape: 'plano-convex-reversed' })).toBeNull();
  });
});
