// Put in front of a program with --require: what would open a connection, start a process or run text as code is written down in the
// file that KERFLINT_WATCH names, and refused. `--disallow-code-generation-from-strings` beside it makes eval throw whatever its way.
const { appendFileSync } = require('node:fs');
const { syncBuiltinESMExports } = require('node:module');

const file = process.env.KERFLINT_WATCH;
const note = (line) => appendFileSync(file, `${line}\n`);

/** By module, what acts. Sockets as such are left alone: Node wraps pipes of stdout in them. */
const ACTS = {
  child_process: ['exec', 'execFile', 'execFileSync', 'execSync', 'fork', 'spawn', 'spawnSync'],
  cluster: ['fork'],
  dgram: ['createSocket', 'Socket'],
  dns: ['lookup', 'resolve', 'resolve4', 'resolve6', 'resolveAny', 'reverse', 'lookupService'],
  'dns/promises': ['lookup', 'resolve', 'resolve4', 'resolve6', 'reverse', 'lookupService'],
  http: ['request', 'get', 'createServer', 'ClientRequest'],
  https: ['request', 'get', 'createServer'],
  http2: ['connect', 'createServer', 'createSecureServer'],
  inspector: ['open'],
  net: ['connect', 'createConnection', 'createServer'],
  tls: ['connect', 'createServer'],
  vm: ['runInContext', 'runInNewContext', 'runInThisContext', 'compileFunction', 'createContext'],
};

const refusing = (name) =>
  function refused() {
    note(name);
    throw new Error(`${name} was called`);
  };

for (const [name, acts] of Object.entries(ACTS)) {
  const module = require(`node:${name}`);
  for (const act of acts) module[act] = refusing(`${name}.${act}`);
}
require('node:net').Socket.prototype.connect = refusing('net.Socket.connect');
for (const name of ['fetch', 'WebSocket', 'EventSource', 'XMLHttpRequest'])
  if (name in globalThis) globalThis[name] = refusing(name);

// The launcher runs one script, which the build wrote beside it.
const vm = require('node:vm');
vm.Script = class extends vm.Script {
  constructor(text, options) {
    super(text, options);
    note(`vm.Script ${options?.filename ?? ''}`);
  }
};
syncBuiltinESMExports();

process.on('uncaughtException', (error) => {
  note(`uncaught ${error.message}`);
  throw error;
});
note('watching');
