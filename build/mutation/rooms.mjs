// Which tests a room's mutants meet. `near` are quick and meet every mutant; `far` meet only those that the near ones let live.

/** The room of a path: its first folder below `src`. */
export const roomOf = (path) => path.split('/')[1];

const own = (room) => [`tests/${room}/**/*.test.ts`];
const JUDGED = ['tests/rules/rules.test.ts', 'tests/rules/on-files.test.ts', 'tests/golden.test.ts'];

const ROOMS = {
  physics: {
    near: [
      'tests/physics/{beam,beam-doubt,power,march,reach,kerf,diagnose,weigh-way,calibrate,likelihood,posterior,predict}.test.ts',
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
    near: [
      'tests/facts/*.test.ts',
      'tests/facts/{artwork,assumed,coupons,cure,evidence,order,power-scale,tasks,time,waste}/*.test.ts',
      'tests/facts/cuts/{passes,prediction}.test.ts',
      'tests/trial/*.test.ts',
      'tests/page/what-if-state.test.ts',
    ],
    far: [
      'tests/facts/{match,recipes}/*.test.ts',
      'tests/facts/cuts/remedies.test.ts',
      'tests/outside/{trade-facts,match-pairs}.test.ts',
      'tests/preflight/*.test.ts',
      'tests/bench/{reach,coupon,diagnose,recipe}.test.ts',
      'tests/report/reach-picture.test.ts',
      ...JUDGED,
    ],
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
    far: [
      'tests/rules/{advice,limits,odd-facts,on-files,searches}.test.ts',
      'tests/preflight/*.test.ts',
      'tests/golden.test.ts',
    ],
  },
};

/** The patterns of a room's tests; of a room that has no list here its own tests, and the golden runs after them. */
export const testsOf = (room) => ROOMS[room] ?? { near: own(room), far: ['tests/golden.test.ts'] };
