/** `npm start` where Electron does not run: the whole program, from the command line to the window's first answer. */
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { root } from '../../electron/host/places.ts';
import { bundleProgram, type Program, startProgram, visit } from './host/program.ts';

let folder: string;
let program: Program | null = null;

beforeAll(bundleProgram);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'start-test-'));
});
afterEach(async () => {
  await program?.stop();
  rmSync(folder, { recursive: true, force: true });
});

function start(args: string[], env: NodeJS.ProcessEnv = {}): Program {
  program = startProgram(join(folder, 'data'), args, env);
  return program;
}

test('prints an address that works, and ends cleanly on Ctrl-C', async () => {
  const nothing = join(folder, 'nothing-here');
  const { printed, output, child, ended } = start(['--no-open', nothing]);
  const address = await printed(/http:\/\/127\.0\.0\.1:\d+\/#t=[\w-]{43}/);
  expect(output().split('\n')[0]).toBe('Opening Hollowgate for a browser on this machine.');
  const visitor = await visit(address);
  expect(await visitor.ask('host.describe', {})).toMatchObject({
    ok: true,
    answer: { host: 'loopback', canPick: false },
  });
  expect(await visitor.ask('property.open', { path: nothing })).toMatchObject({
    ok: false,
    trouble: { kind: 'problem', message: expect.stringMatching(/\w/), fix: expect.stringMatching(/\w/) },
  });
  // What was given at the start and could not be opened is told to the window, which came later.
  const troubles: unknown[] = [];
  await visitor.listen((event) => event.type === 'host.trouble' && troubles.push(event.trouble) > 0);
  expect(troubles).toMatchObject([{ kind: 'problem', file: nothing }]);
  child.kill('SIGINT');
  expect(await ended).toBe(0);
});

test('a fault outside any request is told to the window and does not end the service', async () => {
  const fault = `import { isMainThread } from 'node:worker_threads';
    if (isMainThread) process.on('newListener', (name) => {
      if (name === 'uncaughtException') setTimeout(() => { throw new Error('a loose end'); }, 200);
    });`;
  const { printed } = start(['--no-open', join(folder, 'nothing-here')], {
    NODE_OPTIONS: `--import data:text/javascript,${encodeURIComponent(fault)}`,
  });
  const visitor = await visit(await printed(/http:\S+#t=\S+/));
  const told: string[] = [];
  await visitor.listen((event) => {
    if (event.type === 'host.trouble' && event.trouble.kind === 'fault') told.push(event.trouble.message);
    return told.length > 0;
  });
  expect(told[0]).toContain('a loose end');
  expect(await visitor.ask('host.describe', {})).toMatchObject({ ok: true });
});

test('opens a browser it finds, says why not Electron, and ends when the window does', async () => {
  const browser = join(folder, 'browser');
  // Takes the address as a browser would, listens as the window does, and is closed after a moment.
  writeFileSync(
    browser,
    `#!${process.execPath}
const address = process.argv.find((a) => a.startsWith('--app=')).slice(6);
const [base, token] = address.split('/#t=');
const { secret } = await (await fetch(base + '/session', { method: 'POST', body: JSON.stringify({ token }) })).json();
await fetch(base + '/events', { headers: { Authorization: 'Bearer ' + secret } });
setTimeout(() => process.exit(0), 700);
`,
  );
  chmodSync(browser, 0o755);
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
  const { ended, output } = start([join(folder, 'nothing-here')], { HOLLOWGATE_BROWSER: browser });
  expect(await ended).toBe(0);
  if (process.platform === 'linux') expect(output()).toMatch(/not in Electron: this machine has no display/);
  expect(output()).not.toContain('#t=');
});

describe.skipIf(process.platform !== 'linux')('a program in Electron’s place', () => {
  /** Starts with a display named, and a script where Electron's program would be. */
  function startWith(script: string, args: string[], env: NodeJS.ProcessEnv = {}): Program {
    writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
    writeFileSync(join(folder, 'electron'), `#!${process.execPath}\n${script}`);
    chmodSync(join(folder, 'electron'), 0o755);
    return start(args, {
      DISPLAY: ':77',
      ELECTRON_OVERRIDE_DIST_PATH: folder,
      HOLLOWGATE_BROWSER: '/none',
      ...env,
    });
  }

  test('is given the project and the property, and no loosened sandbox unless it must', async () => {
    const { ended, output } = startWith(
      "console.log(JSON.stringify(process.argv.slice(2))); process.send('window-open'); process.exitCode = 3; process.disconnect();",
      ['creek.gpkg'],
      { npm_lifecycle_event: 'start', INIT_CWD: '/maps' },
    );
    expect(await ended).toBe(3);
    const [said, argv] = output().split('\n');
    expect(said).toBe('Opening Hollowgate in Electron.');
    const loosened = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
    expect(JSON.parse(argv!)).toEqual([...loosened, root, '--open=/maps/creek.gpkg']);
  });

  test('that fails before its window opens gives way to the loopback host, with the reason', async () => {
    const { printed, output } = startWith('process.exit(9);', [join(folder, 'nothing-here')]);
    await printed(/http:\S+#t=\S+/);
    expect(output()).toContain('not in Electron: Electron stopped with code 9 before its window opened.');
    expect(output()).toContain('No Chromium-family browser was found.');
  });

  test('that fails is final when Electron was asked for', async () => {
    const { ended, output } = startWith('process.exit(9);', ['--electron']);
    expect(await ended).toBe(9);
    expect(output()).not.toContain('http:');
  });
});

test('a port that is taken is said plainly', async () => {
  const holder = createServer();
  await new Promise<void>((resolve) => holder.listen(0, '127.0.0.1', resolve));
  const { port } = holder.address() as { port: number };
  const { ended, output } = start(['--no-open', '--port', String(port), join(folder, 'nothing-here')]);
  expect(await ended).toBe(1);
  expect(output()).toContain(`Port ${port} is in use`);
  expect(output()).not.toContain('    at ');
  holder.close();
});

test('a data folder that cannot be made is said plainly', async () => {
  writeFileSync(join(folder, 'data'), 'a file in its place');
  const { ended, output } = start(['--no-open']);
  expect(await ended).toBe(1);
  expect(output()).toContain('cannot make its folder');
  expect(output()).not.toContain('    at ');
});

test('a wrong option ends with the usage and code 2', async () => {
  const { ended, output } = start(['--sideways']);
  expect(await ended).toBe(2);
  expect(output()).toContain('usage: npm start');
});
