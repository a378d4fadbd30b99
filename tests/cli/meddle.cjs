// Put in front of the program with --require: ends it, or changes a file, in the midst of what it does to files.
//   MEDDLE_KILL=n            kills the process (SIGKILL) at the n-th step that writes something: 2k before it, 2k+1 when it is half done
//   MEDDLE_FILE, MEDDLE_READ, MEDDLE_HOW   does something to the file before the n-th time that it is read from
//   MEDDLE_LOG               writes the names of the steps into this file, one a line
const fs = require('node:fs');
const { syncBuiltinESMExports } = require('node:module');

const { MEDDLE_KILL, MEDDLE_FILE, MEDDLE_READ, MEDDLE_HOW, MEDDLE_LOG } = process.env;
const real = { ...fs };
const steps = [];
let reads = 0;
const watched = new Set();

const die = () => process.kill(process.pid, 'SIGKILL');
/** Whether the process is to end in the middle of this step. */
function halfway(name) {
  const at = steps.push(name) - 1;
  if (MEDDLE_LOG) real.writeFileSync(MEDDLE_LOG, `${steps.join('\n')}\n`);
  if (Number(MEDDLE_KILL ?? -1) === 2 * at) die();
  return Number(MEDDLE_KILL ?? -1) === 2 * at + 1;
}

for (const name of [
  'mkdirSync',
  'mkdtempSync',
  'renameSync',
  'linkSync',
  'rmSync',
  'unlinkSync',
  'copyFileSync',
  'appendFileSync',
]) {
  fs[name] = (...args) => {
    const half = halfway(name);
    const done = real[name](...args);
    if (half) die();
    return done;
  };
}
fs.writeFileSync = (target, data, options) => {
  if (!halfway('writeFileSync')) return real.writeFileSync(target, data, options);
  real.writeFileSync(target, Buffer.from(data).subarray(0, Math.floor(Buffer.from(data).length / 2)), options);
  die();
};

const HOW = {
  shorten: (path) => real.truncateSync(path, 60),
  lengthen: (path) => real.appendFileSync(path, '\nG1 X1 Y1\nM2\n'),
  delete: (path) => real.rmSync(path),
  replace: (path) => {
    real.writeFileSync(
      `${path}.new`,
      real
        .readFileSync(path, 'utf8')
        .replace(/F\d+/g, 'F9000')
        .replace(/#[0-9a-f]{6}/g, '#123456'),
    );
    real.renameSync(`${path}.new`, path);
  },
  rewrite: (path) => real.writeFileSync(path, real.readFileSync(path, 'utf8').replace(/F\d/g, 'F9')),
};
fs.openSync = (path, ...rest) => {
  const fd = real.openSync(path, ...rest);
  if (MEDDLE_FILE && String(path).endsWith(MEDDLE_FILE)) watched.add(fd);
  else watched.delete(fd);
  return fd;
};
fs.readSync = (fd, ...rest) => {
  if (watched.has(fd) && ++reads === Number(MEDDLE_READ)) HOW[MEDDLE_HOW](MEDDLE_FILE);
  return real.readSync(fd, ...rest);
};
syncBuiltinESMExports();
