import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { machineSeconds } from '../machine.ts';

const root = join(import.meta.dirname, '..', '..');

/** What a process has used so far: peak resident bytes and seconds of processor time; null where the system hides it. */
function usedBy(pid: number): { peak: number; seconds: number } | null {
  try {
    const peak = /VmHWM:\s+(\d+) kB/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
    // Fields after the name in parentheses; user and system time are the 14th and 15th, in hundredths of a second.
    const fields = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1]!.split(' ');
    return peak && { peak: Number(peak[1]) * 1024, seconds: (Number(fields[11]) + Number(fields[12])) / 100 };
  } catch {
    return null;
  }
}

// The limits the project sets itself for the main job: the sample without a window in 30 s and 1.5 GB on two cores.
test('the sample is analysed within its limits of time and memory', async () => {
  const out = mkdtempSync(join(tmpdir(), 'limits-'));
  const before = machineSeconds();
  const started = performance.now();
  const child = spawn(
    process.execPath,
    [
      join(root, 'electron', 'command.ts'),
      join(root, 'sample-rasters'),
      '--out',
      join(out, 'sample'),
      '--quiet',
    ],
    { stdio: ['ignore', 'ignore', 'inherit'] },
  );
  let [peak, own] = [0, 0];
  const watch = setInterval(() => {
    const used = usedBy(child.pid!);
    if (!used) return;
    peak = Math.max(peak, used.peak);
    own = used.seconds;
  }, 100);
  const code = await new Promise((resolve) => child.on('exit', resolve));
  clearInterval(watch);
  rmSync(out, { recursive: true, force: true });
  const seconds = (performance.now() - started) / 1000;
  // Others that took more than a quarter of a processor meanwhile.
  const busy = machineSeconds() - before - own > 0.25 * seconds;
  console.info(
    `the sample took ${seconds.toFixed(1)} s and ${(peak / 1e9).toFixed(2)} GB${busy ? ' on a busy machine' : ''}`,
  );
  expect(code).toBe(0);
  expect(peak).toBeLessThan(1.5e9);
  // The aim is 30 s. The same two cores took 23 to 29 s at different hours, so only a fifth more than the aim fails.
  // Other work on the machine is not ours to answer for; then only a hang does.
  expect(seconds).toBeLessThan(busy ? 240 : 36);
});
