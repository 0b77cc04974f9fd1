/** `npm start` where Electron does not run: the whole program, from the command line to the window's first answer. */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { dist, root } from '../../electron/host/places.ts';

let folder: string;
let child: ChildProcess | null = null;
let output = '';

beforeAll(() => {
  if (!existsSync(join(dist, 'renderer', 'index.html'))) {
    execFileSync(process.execPath, [join(root, 'scripts', 'build.ts')], { stdio: 'inherit' });
  }
});
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'start-test-'));
  output = '';
});
afterEach(async () => {
  if (child?.exitCode === null) {
    child.kill('SIGKILL');
    await new Promise((resolve) => child!.once('exit', resolve));
  }
  rmSync(folder, { recursive: true, force: true });
});

function start(args: string[], env: NodeJS.ProcessEnv = {}): ChildProcess {
  const { DISPLAY: _d, WAYLAND_DISPLAY: _w, ...rest } = process.env;
  child = spawn(process.execPath, [join(root, 'electron', 'start.ts'), ...args], {
    env: { ...rest, HOLLOWGATE_DATA: join(folder, 'data'), ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  for (const stream of [child.stdout!, child.stderr!]) {
    stream.setEncoding('utf8').on('data', (text: string) => {
      output += text;
    });
  }
  return child;
}
const ended = (process: ChildProcess) =>
  new Promise<number | null>((resolve) => process.once('exit', (code) => resolve(code)));
const printed = (pattern: RegExp) =>
  expect.poll(() => pattern.exec(output)?.[0] ?? output, { timeout: 30_000 }).toMatch(pattern);

/** What the window does first, without a window. */
async function introduce(address: string): Promise<(name: string, params: object) => Promise<unknown>> {
  const [base, token] = address.split('/#t=') as [string, string];
  const session = await fetch(`${base}/session`, { method: 'POST', body: JSON.stringify({ token }) });
  const { secret } = (await session.json()) as { secret: string };
  return async (name, params) => {
    const answer = await fetch(`${base}/request`, {
      method: 'POST',
      headers: { Authorization: `Bearer ${secret}`, 'Content-Type': 'application/json' },
      body: JSON.stringify({ name, params }),
    });
    return answer.json();
  };
}

test('prints an address that works, and ends cleanly on Ctrl-C', async () => {
  const program = start(['--no-open', join(folder, 'nothing-here')]);
  await printed(/http:\/\/127\.0\.0\.1:\d+\/#t=[\w-]{43}/);
  expect(output.split('\n')[0]).toBe('Opening Hollowgate for a browser on this machine.');
  const ask = await introduce(/http:\S+/.exec(output)![0]);
  expect(await ask('host.describe', {})).toMatchObject({
    ok: true,
    answer: { host: 'loopback', canPick: false },
  });
  expect(await ask('property.open', { path: join(folder, 'nothing-here') })).toMatchObject({
    ok: false,
    trouble: { kind: 'problem', message: expect.stringMatching(/\w/), fix: expect.stringMatching(/\w/) },
  });
  const end = ended(program);
  program.kill('SIGINT');
  expect(await end).toBe(0);
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
setTimeout(() => process.exit(0), 500);
`,
  );
  chmodSync(browser, 0o755);
  writeFileSync(join(folder, 'package.json'), '{"type":"module"}');
  const program = start([join(folder, 'nothing-here')], { HOLLOWGATE_BROWSER: browser });
  expect(await ended(program)).toBe(0);
  if (process.platform === 'linux') expect(output).toMatch(/not in Electron: this machine has no display/);
  expect(output).not.toContain('#t=');
});

test('a port that is taken is said plainly', async () => {
  const holder = createServer();
  await new Promise<void>((resolve) => holder.listen(0, '127.0.0.1', resolve));
  const { port } = holder.address() as { port: number };
  const program = start(['--no-open', '--port', String(port), join(folder, 'nothing-here')]);
  expect(await ended(program)).toBe(1);
  expect(output).toContain(`Port ${port} is in use`);
  expect(output).not.toContain('    at ');
  holder.close();
});

test('a data folder that cannot be made is said plainly', async () => {
  writeFileSync(join(folder, 'data'), 'a file in its place');
  expect(await ended(start(['--no-open']))).toBe(1);
  expect(output).toContain('cannot make its folder');
  expect(output).not.toContain('    at ');
});

test('a wrong option ends with the usage and code 2', async () => {
  expect(await ended(start(['--sideways']))).toBe(2);
  expect(output).toContain('usage: npm start');
});
