import * as v from 'valibot';
import { parseQuantity } from '../../units/quantity.ts';
import { date, id, length, money, quantity, ratio, share, spot, strict, version, words } from '../yaml/shape.ts';

/** The machine profile, `<id>.machine.yaml`: the machine as it stands in the shop. */

const power = (describe: string) => quantity('power', describe, { max: { value: 100_000, text: '100 kW' } });

const settingKey = v.pipe(v.string(), v.regex(/^\s*\d+(?:\.\d+)?\s*%\s*$/, 'a setting belongs here, such as 50 %'));

const curve = v.pipe(
  v.record(settingKey, power('power at the work at this setting')),
  v.description('measured power at the work by setting, rising: { 10 %: 2 W, 50 %: 30 W, 100 %: 54 W }'),
  v.transform((said) =>
    Object.entries(said).map(([setting, watts]) => {
      const fraction = parseQuantity(setting, 'fraction');
      return { fraction: fraction.ok ? fraction.value : Number.NaN, watts };
    }),
  ),
);

const gate = (describe: string) =>
  v.pipe(v.union([v.boolean(), v.literal('unknown')], 'write true, false or unknown'), v.description(describe));

const harmless = v.pipe(
  v.record(
    v.pipe(v.string(), v.regex(/^[GgMm]\d{1,4}(?:\.\d)?$/, 'a code belongs here, such as M42')),
    words('what the code does', 80),
  ),
  v.description(
    'codes that leave beam, speed and motion alone on this machine, each with what it does: { M42: air valve }. Codes that kerflint follows stay followed',
  ),
);

const source = strict({
  kind: v.picklist(['co2', 'diode', 'fibre']),
  wavelength: v.optional(quantity('wavelength', 'wavelength of the beam; left out: the usual one of its kind')),
  rated: power("the seller's power"),
  measured: v.optional(power('measured at the work at full setting')),
  curve: v.optional(curve),
  'measured-on': v.optional(date('when it was measured')),
  'at-corners': v.optional(ratio('power at the far corner over power at the near one', 0.05, 1)),
  hours: v.optional(quantity('hours', "the tube's age", { sign: 'not-negative' })),
  ceiling: v.optional(share('recommended maximum setting; left out: 85 % for co2, none otherwise')),
  floor: v.optional(
    share('below this setting it does not fire; left out: 10 % for co2, none otherwise', 'not-negative'),
  ),
});

const lens = strict({
  id: v.optional(
    v.pipe(
      v.string(),
      v.regex(
        /^(?=.*[A-Za-z])[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/,
        'a lens id is letters, digits, - _ and ., and needs a letter, such as 2in: a bare number reads like a quantity',
      ),
      v.description('what the lens is called; left out: by its focal length, as 2in or 50mm'),
    ),
  ),
  focal: length('focal length'),
  shape: v.optional(
    v.pipe(
      v.picklist(['meniscus', 'plano-convex', 'plano-convex-reversed', 'best-form']),
      v.description('left out: plano-convex, curved side to the beam'),
    ),
  ),
  material: v.optional(words('what it is made of; left out: ZnSe for co2, glass otherwise', 40)),
  standoff: v.optional(length('nozzle to sheet', 'not-negative')),
  spot: v.optional(spot('measured 1/e² spot; two sides where it is a rectangle')),
});

const air = v.pipe(
  strict({
    maximum: v.optional(quantity('pressure', 'highest air pressure')),
    on: v.optional(
      v.pipe(
        v.picklist(['M7', 'M8'], 'M7 or M8 belongs here: the words by which kerflint follows the air'),
        v.description('the word that switches the air on; with `off`, it lets `kerflint fix` write it'),
      ),
    ),
    off: v.optional(
      v.pipe(
        v.literal('M9', 'M9 belongs here: the word by which kerflint follows the air'),
        v.description('the word that switches it off'),
      ),
    ),
  }),
  v.check((said) => Object.keys(said).length > 0, 'name at least one of maximum, on or off'),
  v.check((said) => (said.on === undefined) === (said.off === undefined), '`on` and `off` belong together'),
);

export const machineSchema = v.pipe(
  strict({
    kerflint: version,
    id: id('what jobs call this machine; also the file name before .machine.yaml'),
    source,
    invented: v.optional(
      v.pipe(v.boolean(), v.description('the numbers are made up, for a demonstration: every result says so')),
    ),
    beam: v.optional(
      strict({
        diameter: v.optional(
          length('1/e² diameter of the beam at the lens; left out: usual for the source, with a doubt of its own'),
        ),
        m2: v.optional(
          ratio('beam quality M² (ISO 11146); left out: usual for the source, with a doubt of its own', 1, 100),
        ),
      }),
    ),
    lenses: v.pipe(v.array(lens), v.minLength(1, 'name at least one lens'), v.maxLength(50, 'more than 50 lenses')),
    travel: strict({
      x: length('travel along X'),
      y: length('travel along Y'),
      z: v.optional(length('travel along Z', 'not-negative')),
    }),
    motion: v.optional(
      strict({
        speed: v.optional(quantity('speed', 'fastest cutting speed')),
        rapid: v.optional(quantity('speed', 'speed of rapids')),
        acceleration: v.optional(quantity('acceleration', 'acceleration of the axes')),
        'corner-deviation': v.optional(length('how far a corner may be rounded')),
        'air-delay': v.optional(quantity('time', 'pause until the air is on', { sign: 'not-negative' })),
      }),
    ),
    artwork: v.optional(
      strict({ 'px-per-inch': v.optional(ratio('pixels per inch of artwork without a physical size', 1, 10_000)) }),
    ),
    controller: v.optional(
      strict({
        power: v.optional(
          v.pipe(
            strict({
              word: v.pipe(v.picklist(['S', 'M106', 'analog']), v.description('the word that sets the power')),
              full: ratio('its value at full power', 1, 1_000_000),
            }),
            v.description('never assumed: without it no toolpath is judged'),
          ),
        ),
        m4: v.optional(
          v.pipe(
            v.picklist(['scaled-with-speed', 'constant']),
            v.description('what M4 does with the power in corners'),
          ),
        ),
        'beam-off-on-rapid': v.optional(gate('does the controller gate the beam on G0?')),
        'beam-off-when-stopped': v.optional(gate('does it gate the beam in a dwell under M4 and at program end?')),
        'z-zero': v.optional(
          v.pipe(
            v.picklist(['waist-on-face', 'fixed']),
            v.description("waist-on-face: at Z0 the waist lies on the sheet's top face, Z- lowers it; fixed: no Z"),
          ),
        ),
        'arc-tolerance': v.optional(length('how far the radii of a centre arc may differ')),
        harmless: v.optional(harmless),
        'block-delete': v.optional(
          v.pipe(
            v.picklist(['runs', 'skipped']),
            v.description('does the controller carry out lines that begin with a slash (block delete)?'),
          ),
        ),
      }),
    ),
    air: v.optional(air),
    rates: v.optional(
      strict({
        machine: v.optional(money('an hour of the machine', 'per-hour')),
        operator: v.optional(money('an hour of work', 'per-hour')),
        input: v.optional(quantity('power', 'electrical power drawn while it runs')),
        energy: v.optional(money('price of electrical energy', 'per-kWh')),
        tube: v.optional(strict({ price: money('price of a new tube'), life: quantity('hours', 'its expected life') })),
      }),
    ),
  }),
  v.title('kerflint machine'),
  v.description('A machine profile: source, beam, lenses, travel and controller of one laser cutter.'),
);

export type MachineText = v.InferOutput<typeof machineSchema>;
