// What the sources and the bundles may not hold.
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { filesIn, nodesOf, ownSources, type Parsed, parse } from './syntax.ts';

const own = ownSources();

/** Every module that a file asks for, by whatever form of import; null where the name is computed. */
function modulesOf({ tree }: Parsed): (string | null)[] {
  const asked: (string | null)[] = [];
  for (const node of nodesOf(tree)) {
    if ((ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) && node.moduleSpecifier)
      asked.push((node.moduleSpecifier as ts.StringLiteral).text);
    if (!ts.isCallExpression(node)) continue;
    const called = node.expression;
    if (called.kind !== ts.SyntaxKind.ImportKeyword && !/^_*require\d*$/.test(called.getText())) continue;
    const [name] = node.arguments;
    asked.push(name && ts.isStringLiteralLike(name) ? name.text : null);
  }
  return asked;
}

/** What opens a connection, starts a process or runs text as code. */
const REACHES_OUT = /^(node:)?(child_process|cluster|dgram|dns|http|http2|https|inspector|net|tls|vm|repl|wasi)(\/|$)/;
/** Starts the program from its own script, beside what V8 made of it at the build. It is given no text but that. */
const LAUNCHER = 'src/cli/kerflint.ts';
const ACTS = new Set(['eval', 'Function', 'fetch', 'XMLHttpRequest', 'WebSocket', 'EventSource', 'importScripts']);

/** Names of `ACTS` that stand where they would be called or made, not as a key or a member of something else. */
function actsOf({ tree }: Parsed): string[] {
  return [...nodesOf(tree)].flatMap((node) => {
    if (!(ts.isCallExpression(node) || ts.isNewExpression(node))) return [];
    const called = node.expression;
    const name = ts.isPropertyAccessExpression(called) ? called.name.text : called.getText();
    if (!ACTS.has(name)) return [];
    if (ts.isPropertyAccessExpression(called) && !/^(globalThis|window|self)$/.test(called.expression.getText()))
      return [];
    return [name];
  });
}

describe('our own sources', () => {
  it('are many, and all of them are read', () => {
    expect(own.length).toBeGreaterThan(150);
  });

  it.each(own.map((file) => [file.path, file] as const))('%s neither reaches out nor runs text as code', (_, file) => {
    const modules = modulesOf(file);
    expect(modules).not.toContain(null);
    const allowed = file.path === LAUNCHER ? ['node:vm'] : [];
    expect(modules.filter((name) => name !== null && REACHES_OUT.test(name))).toEqual(allowed);
    expect(actsOf(file)).toEqual([]);
  });

  it('run one script, which the build writes beside them', () => {
    const { tree } = own.find(({ path }) => path === LAUNCHER)!;
    const scripts = [...nodesOf(tree)].filter(ts.isNewExpression).map((node) => node.getText());
    expect(scripts).toEqual(["new Script(readFileSync(PROGRAM, 'latin1'), { filename: PROGRAM, cachedData })"]);
    expect(tree.text.match(/PROGRAM = .*/)?.[0]).toBe("PROGRAM = join(import.meta.dirname, 'parts', 'program.cjs');");
  });

  it('touch files, processes and threads in the command line and the action only', () => {
    const elsewhere = own.filter(({ path }) => !/^(src\/cli|action)\//.test(path));
    for (const file of elsewhere)
      expect(
        modulesOf(file).filter((name) => name?.startsWith('node:')),
        file.path,
      ).toEqual([]);
  });
});

describe('what is built', () => {
  const built = ['kerflint.js', 'action.mjs', 'core.browser.mjs'].map((name) => parse(`dist/${name}`));
  const parts = [...filesIn('dist/parts', '.cjs'), ...filesIn('dist/parts', '.js')];

  it('is all read', () => {
    expect(parts.map(({ path }) => path)).toEqual(
      expect.arrayContaining(['dist/parts/program.cjs', 'dist/parts/worker.js', 'dist/parts/entry/worker.js']),
    );
    const size = parts.reduce((sum, { tree }) => sum + tree.text.length, 0);
    expect(size).toBeGreaterThan(1e6);
  });

  it.each([...built, ...parts].map((file) => [file.path.replace(/-[A-Z0-9]{8}/, ''), file] as const))(
    '%s asks for no network or process, nor runs text as code',
    (_, file) => {
      const asked = modulesOf(file).flatMap((name) => (name !== null && REACHES_OUT.test(name) ? [name] : []));
      expect(asked).toEqual(file.path === 'dist/kerflint.js' ? ['node:vm'] : []);
      // A library may call its own function `fetch`; then it declares it.
      const declared = new Set(
        [...nodesOf(file.tree)].flatMap((node) =>
          ts.isFunctionDeclaration(node) && node.name ? [node.name.text] : [],
        ),
      );
      expect(actsOf(file).filter((name) => !declared.has(name))).toEqual([]);
    },
  );

  it('declares no subcommand that is a program of its own', () => {
    const texts = own.filter(({ path }) => path.startsWith('src/cli/')).map(({ tree }) => tree.text);
    expect(texts.some((text) => text.includes('.command('))).toBe(true);
    for (const text of texts) expect(text).not.toMatch(/executableFile|executableDir|\.command\([^)]*,/);
  });
});
