import { type ChildProcess, fork } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { mutateBytes, mutateText } from './mutate.ts';
import { type Original, originals } from './originals.ts';
import type { ReadAnswer } from './read-child.ts';

/** What a person would wait for before the program counts as hung, ms of processor time: a busy machine is no fault. */
const LONGEST = 5000;
const NEVER = 12 * LONGEST;
const CHILD = fileURLToPath(new URL('./read-child.ts', import.meta.url));

export interface ReaderFault {
  name: string;
  seed: number;
  what: string;
}

export interface ReaderStress {
  files: number;
  read: number;
  refused: number;
  faults: ReaderFault[];
  /** Most memory a reading process held, bytes; longest reading, ms of processor time. */
  held: number;
  longest: number;
}

/**
 * Reads `files` mutated files, each format in turn, in a process of their own. A fault is anything but an answer or a
 * Problem within 5 s: a crash, a hang, another error, a refusal that does not name the file.
 */
export async function stressReaders(files: number, firstSeed = 1): Promise<ReaderStress> {
  const folder = mkdtempSync(join(tmpdir(), 'stress-'));
  const made = mkdtempSync(join(tmpdir(), 'stress-'));
  const all = await originals(made);
  const result: ReaderStress = { files, read: 0, refused: 0, faults: [], held: 0, longest: 0 };
  let child: ChildProcess | null = null;
  try {
    for (let i = 0; i < files; i++) {
      const original = all[i % all.length]!;
      const seed = firstSeed + Math.floor(i / all.length);
      const path = join(folder, original.name);
      writeFileSync(path, mutated(original, seed));
      child ??= fork(CHILD, { stdio: ['ignore', 'ignore', 'ignore', 'ipc'] });
      const answer = await ask(child, original, path);
      const fault = (what: string) => result.faults.push({ name: original.name, seed, what });
      if (typeof answer === 'string') {
        fault(answer);
        child.kill('SIGKILL');
        child = null;
        continue;
      }
      result.held = Math.max(result.held, answer.held);
      result.longest = Math.max(result.longest, answer.took);
      if (answer.took > LONGEST) fault(`took ${Math.round(answer.took)} ms`);
      if (answer.outcome === 'thrown') fault(answer.said);
      else if (answer.outcome === 'read') result.read++;
      else {
        result.refused++;
        if (!answer.said.includes(original.name)) fault(`does not name the file: ${answer.said}`);
      }
    }
  } finally {
    child?.kill();
    for (const each of [folder, made]) rmSync(each, { recursive: true, force: true });
  }
  return result;
}

const mutated = ({ text, bytes }: Original, seed: number): Uint8Array =>
  text && seed % 3 !== 0 ? mutateText(bytes, seed) : mutateBytes(bytes, seed);

/** The child's answer, or what became of it instead. */
function ask(child: ChildProcess, { name, reading }: Original, path: string): Promise<ReadAnswer | string> {
  return new Promise((resolve) => {
    const done = (answer: ReadAnswer | string) => {
      clearTimeout(timer);
      child.removeAllListeners();
      resolve(answer);
    };
    const timer = setTimeout(() => done(`no answer within ${NEVER / 1000} s`), NEVER);
    child.once('message', (answer) => done(answer as ReadAnswer));
    child.once('exit', (code, signal) => done(`the process ended (${signal ?? code})`));
    child.send({ reading, file: { name, path } });
  });
}
