/** The window's requests are answered within 100 ms while a scout runs on the sample (issue: "Limits to hold"). */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { afterEach, beforeEach, expect, onTestFailed, test } from 'vitest';
import type { PropertySummary } from '../../../electron/service/contract.ts';
import { bundleProgram, type Program, startProgram, visit } from './program.ts';

let folder: string;
let program: Program | null = null;
beforeEach(async () => {
  await bundleProgram();
  folder = mkdtempSync(join(tmpdir(), 'responsive-test-'));
});
afterEach(async () => {
  await program?.stop();
  rmSync(folder, { recursive: true, force: true });
});

test('requests are answered within 100 ms while the sample is scouted', { timeout: 180_000 }, async () => {
  program = startProgram(join(folder, 'data'), ['--no-open']);
  onTestFailed(() => console.error(program?.output()));
  const visitor = await visit(await program.printed(/http:\S+#t=\S+/));
  let ended: string | null = null;
  const done = visitor.listen((event) => {
    if (/^scout\.(done|failed|cancelled)$/.test(event.type)) ended = event.type;
    return ended !== null;
  });
  // The first summary waits until the sample has been read; from then on the scout runs.
  expect(await visitor.ask('property.summary', {})).toMatchObject({ ok: true, answer: { invented: true } });

  const layer = 'imagery';
  const { frame } = ((await visitor.ask('property.summary', {})) as { answer: PropertySummary }).answer;
  const middle = {
    x: frame.west + (frame.width / 2) * frame.cellSize,
    y: frame.north - (frame.height / 2) * frame.cellSize,
  };
  // What a person does: looks around, which asks for tiles by the dozen, and points at things meanwhile.
  const pointing: [string, object][] = [
    ['host.describe', {}],
    ['property.summary', {}],
    ['map.reading', middle],
    ['map.table', { table: 'features' }],
  ];
  const times: Record<string, number[]> = {};
  const timed = async (name: string, params: object) => {
    const from = performance.now();
    const reply = await visitor.ask(name, params);
    times[name] ??= [];
    times[name].push(performance.now() - from);
    expect(reply, name).toMatchObject({ ok: true });
  };
  let tiles = Promise.resolve();
  let painting = 0;
  for (let turn = 0; ended === null; turn++) {
    if (painting === 0) {
      const corners = Array.from({ length: 16 }, (_, index) => ({ x: index & 3, y: index >> 2 }));
      painting = corners.length;
      tiles = Promise.all(
        corners.map((corner) => timed('map.tile', { layer, z: 2, ...corner }).finally(() => painting--)),
      ).then(() => {});
    }
    await timed(...pointing[turn % pointing.length]!);
    await setTimeout(25);
  }
  await tiles;
  await done;
  expect(ended).toBe('scout.done');

  const all = pointing.flatMap(([name]) => times[name]!).sort((a, b) => a - b);
  const share = (part: number) => all[Math.floor((all.length - 1) * part)]!;
  const figures = Object.entries(times).map(
    ([name, list]) => `${name} ${Math.max(...list).toFixed(0)} ms at most of ${list.length}`,
  );
  console.info(
    `while scouting: median ${share(0.5).toFixed(1)} ms, 99 % ${share(0.99).toFixed(1)} ms; ${figures.join(', ')}`,
  );
  expect(all.length).toBeGreaterThan(40);
  expect(share(0.99)).toBeLessThan(100);
});
