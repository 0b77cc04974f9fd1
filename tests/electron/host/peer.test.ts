import { execFile } from 'node:child_process';
import { connect, createServer, type Socket } from 'node:net';
import { promisify } from 'node:util';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { type LoopbackServer, serveLoopback } from '../../../electron/host/loopback-server.ts';
import { isAnotherUser, peerUser } from '../../../electron/host/peer.ts';
import { createSession } from '../../../electron/host/session.ts';
import { fakeService } from './fake-service.ts';

const NOBODY = 65_534;
const run = promisify(execFile);

describe.skipIf(process.platform !== 'linux')('the owner of a connection', () => {
  let server: LoopbackServer;
  beforeEach(async () => {
    server = await serveLoopback({
      service: fakeService(() => null),
      session: createSession(),
      files: () => null,
    });
  });
  afterEach(() => server.close());

  test('is us for a connection of ours', async () => {
    const listener = createServer();
    await new Promise<void>((resolve) => listener.listen(0, '127.0.0.1', resolve));
    const { port } = listener.address() as { port: number };
    const [taken] = await Promise.all([
      new Promise<Socket>((resolve) => listener.once('connection', resolve)),
      new Promise<Socket>((resolve) => {
        const socket = connect(port, '127.0.0.1', () => resolve(socket));
      }),
    ]);
    expect(peerUser(taken)).toBe(process.getuid!());
    expect(isAnotherUser(taken)).toBe(false);
    expect(peerUser({ remotePort: 1, localPort: 1 })).toBeNull();
    taken.destroy();
    listener.close();
  });

  const exchange = (token: string) =>
    fetch(`http://127.0.0.1:${server.port}/session`, { method: 'POST', body: JSON.stringify({ token }) });

  test.skipIf(process.getuid?.() !== 0)('keeps another user out, who has read the token', async () => {
    const token = server.address.split('#t=')[1]!;
    const code = `fetch('http://127.0.0.1:${server.port}/session', { method: 'POST', body: '{"token":"${token}"}' })
      .then(async (answer) => console.log(answer.status, await answer.text()));`;
    const { stdout } = await run('node', ['-e', code], { uid: NOBODY, gid: NOBODY, cwd: '/' });
    expect(stdout).toMatch(/^403 .*Another user/);
    // The token is not spent by it.
    expect((await exchange(token)).status).toBe(200);
  });
});
