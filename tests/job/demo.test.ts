import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { createLibrary } from '../../src/job/files/library.ts';
import { readSidecar } from '../../src/job/sidecar/sidecar.ts';
import { bytesSource, type Source } from '../../src/source/source.ts';

const root = new URL('../../', import.meta.url);

function yamlIn(folder: string, suffix: string): Source[] {
  return readdirSync(new URL(`${folder}/`, root))
    .filter((name) => name.endsWith(suffix))
    .map((name) => bytesSource(`${folder}/${name}`, readFileSync(new URL(`${folder}/${name}`, root))));
}

describe('the demo', () => {
  const sidecars = yamlIn('examples', '.job.yaml');
  const library = createLibrary({
    catalogue: [...yamlIn('data/materials', '.material.yaml'), ...yamlIn('data/machines', '.machine.yaml')],
    shop: yamlIn('examples/machines', '.machine.yaml'),
    untrusted: true,
  });

  it('has four jobs and a shop without a problem', () => {
    expect(sidecars).toHaveLength(4);
    expect(library.shopProblems()).toEqual([]);
  });

  it.each(sidecars.map((source) => [source.name, source] as const))('%s names what there is', (_, source) => {
    const { value, problems } = readSidecar(source);
    expect(problems).toEqual([]);
    const machine = library.machine(value!.machine!);
    expect(machine).toMatchObject({ trusted: true, problems: [] });
    expect(machine.value!.lenses.map((lens) => lens.id)).toContain(value!.lens);
    expect(library.material(value!.material!)).toMatchObject({ trusted: true, problems: [], notes: [] });
    const [first] = new TextDecoder().decode([...source.chunks()][0]).split('\n');
    expect(first).toBe('# yaml-language-server: $schema=../schemas/job.schema.json');
  });
});
