// Which tests a room's mutants meet, in the order in which they are run: the quick and the telling first. `near` meet every mutant, `far`
// only those that the near ones let live, and `farOf` only those of the folder that it names. Tests that replace a module cannot stand here:
// all files of a run share the modules.

/** The room of a path: its first folder below `src`. */
export const roomOf = (path) => path.split('/')[1];

const own = (room) => [`tests/${room}/**/*.test.ts`];
const JOBS = 'tests/preflight/{demo,waivers,encodings,unanswered,bad-input,long-lists}.test.ts';
const JUDGED = ['tests/rules/rules.test.ts', 'tests/rules/on-files.test.ts', 'tests/golden.test.ts'];

/** All of facts but what searches random machines for minutes. */
const QUICK = '!(agreement)';

const ROOMS = {
  physics: {
    near: [
      'tests/physics/{beam,beam-doubt,power,march,reach,kerf,diagnose,weigh-way,calibrate,likelihood,posterior,predict,samples}.test.ts',
      'tests/physics/{quantile,recipe,remedy,last-that,parting-screen,remembered}.test.ts',
      'tests/outside/{conduction,lens-upside-down,optics,march,trade-physics}.test.ts',
    ],
    far: [
      'tests/physics/{diagnose-property,diagnose-shops}.test.ts',
      'tests/bench/{reach,coupon,ramp,diagnose,calibrate}.test.ts',
      'tests/outside/{trade-facts,boundary}.test.ts',
      'tests/facts/cuts/remedies.test.ts',
      'tests/golden.test.ts',
    ],
  },
  facts: {
    // Those of the folder come first: they mostly notice, in a few seconds.
    first: (folder) => `tests/facts/${folder}/${QUICK}.test.ts`,
    near: [
      'tests/rules/rules.test.ts',
      'tests/golden.test.ts',
      'tests/facts/*.test.ts',
      `tests/facts/*/${QUICK}.test.ts`,
      'tests/page/what-if-state.test.ts',
      'tests/report/assumed-line.test.ts',
      'tests/trial/{knobs,proposals}.test.ts',
    ],
    far: [JOBS, 'tests/outside/{trade-facts,match-pairs}.test.ts', 'tests/rules/on-files.test.ts'],
    farOf: {
      bench: ['tests/report/reach-picture.test.ts', 'tests/bench/{coupon,diagnose,recipe,reach}.test.ts'],
      recipes: ['tests/bench/{coupon,diagnose,recipe}.test.ts', 'tests/facts/recipes/agreement.test.ts'],
      cuts: ['tests/bench/{coupon,diagnose,recipe}.test.ts'],
      drawing: ['tests/report/pictures/*.test.ts', 'tests/report/{any-result,summary,text}.test.ts'],
      'what-if': ['tests/trial/same-as-check.test.ts'],
      evidence: ['tests/outside/evidence.test.ts', 'tests/bench/evidence.test.ts'],
    },
  },
  gcode: {
    near: [
      'tests/gcode/{beam,edit,fine-points,interpret,odd-line,planner,problems-told,raster,scan,telling-programs}.test.ts',
      'tests/outside/toolpath-{nist,motion}.test.ts',
      // Programs that are changed: src/gcode/edit.
      'tests/fixes/{fixes,pieces}.test.ts',
    ],
    far: [
      'tests/fixes/random-jobs.test.ts',
      'tests/gcode/bad-input.test.ts',
      'tests/outside/toolpath-{arcs,library}.test.ts',
      'tests/facts/{cuts/passes,order/order,waste/waste}.test.ts',
      ...JUDGED,
    ],
  },
  rules: {
    near: [
      'tests/rules/{rules,whole,in-force,pages,said}.test.ts',
      'tests/report/reply.test.ts',
      'tests/facts/cure/*.test.ts',
    ],
    far: ['tests/rules/{advice,limits,odd-facts,on-files,searches}.test.ts', JOBS, 'tests/golden.test.ts'],
  },
};

/** The tests of a room; of one that has no list here its own, and the golden runs after them. */
const roomTests = (room) => ROOMS[room] ?? { near: own(room), far: ['tests/golden.test.ts'] };

/** The patterns of the tests that a mutant in a file meets, in their order, and of those that it meets when these let it live. */
export function testsOf(room) {
  const { near, far, farOf = {}, first } = roomTests(room);
  const folderOf = (file) => file.split('/')[2];
  return {
    nearFor: (file) => (first && !folderOf(file).endsWith('.ts') ? [first(folderOf(file)), ...near] : near),
    farFor: (file) => [...far, ...(farOf[folderOf(file)] ?? [])],
  };
}
