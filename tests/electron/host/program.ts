import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout } from 'node:timers/promises';
import { dist, root } from '../../../electron/host/places.ts';
import type { Reply, ServiceEvent } from '../../../electron/service/contract.ts';

/** `npm start` as a child process, without a display, its own data folder, and what it prints. */
export interface Program {
  child: ChildProcess;
  output(): string;
  /** Waits until it has printed the pattern, and answers with the match. */
  printed(pattern: RegExp): Promise<string>;
  ended: Promise<number | null>;
  /** Ends it if it still runs. */
  stop(): Promise<void>;
}

/** Bundles the program if nobody has yet, as `npm start` does first; test files that run at once take turns. */
export async function bundleProgram(): Promise<void> {
  const lock = join(root, 'node_modules', '.hollowgate-bundling');
  for (let tries = 0; tries < 300; tries++) {
    try {
      mkdirSync(lock);
      break;
    } catch {
      await setTimeout(200);
    }
  }
  try {
    if (existsSync(join(dist, 'main.js')) && existsSync(join(dist, 'renderer', 'main.js'))) return;
    execFileSync(process.execPath, [join(root, 'scripts', 'build.ts')], { stdio: 'inherit' });
  } finally {
    rmSync(lock, { recursive: true, force: true });
  }
}

export function startProgram(dataFolder: string, args: string[], env: NodeJS.ProcessEnv = {}): Program {
  const { DISPLAY: _d, WAYLAND_DISPLAY: _w, ...rest } = process.env;
  const child = spawn(process.execPath, [join(root, 'electron', 'start.ts'), ...args], {
    env: { ...rest, HOLLOWGATE_DATA: dataFolder, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (text: string) => {
      output += text;
    });
  }
  const ended = new Promise<number | null>((resolve) => child.once('exit', (code) => resolve(code)));
  return {
    child,
    output: () => output,
    async printed(pattern) {
      for (const until = performance.now() + 30_000; performance.now() < until; await setTimeout(50)) {
        const match = pattern.exec(output);
        if (match) return match[0];
        if (child.exitCode !== null) break;
      }
      throw new Error(`the program did not print ${pattern}, but:\n${output}`);
    },
    ended,
    async stop() {
      if (child.exitCode === null) child.kill('SIGKILL');
      await ended;
    },
  };
}

export interface Visitor {
  ask(name: string, params: object): Promise<Reply>;
  /** Reads events until the handler says that it has had enough. */
  listen(handler: (event: ServiceEvent) => boolean): Promise<void>;
}

/** Does what the window does first, without a window: buys the secret for the address's token. */
export async function visit(address: string): Promise<Visitor> {
  const [base, token] = address.split('/#t=') as [string, string];
  const session = await fetch(`${base}/session`, { method: 'POST', body: JSON.stringify({ token }) });
  const { secret } = (await session.json()) as { secret: string };
  const headers = { Authorization: `Bearer ${secret}`, 'Content-Type': 'application/json' };
  return {
    async ask(name, params) {
      const body = JSON.stringify({ name, params });
      const answer = await fetch(`${base}/request`, { method: 'POST', headers, body });
      if (answer.headers.get('content-type') === 'application/octet-stream') {
        return { ok: true, answer: new Uint8Array(await answer.arrayBuffer()) };
      }
      return (await answer.json()) as Reply;
    },
    async listen(handler) {
      const { body } = await fetch(`${base}/events`, { headers });
      let rest = '';
      for await (const chunk of body!.pipeThrough(new TextDecoderStream())) {
        const lines = (rest + chunk).split('\n');
        rest = lines.pop()!;
        for (const line of lines) if (line !== '' && handler(JSON.parse(line) as ServiceEvent)) return;
      }
    },
  };
}
