import { readFileSync } from 'node:fs';
import type { Socket } from 'node:net';

/**
 * The user whose process holds the other end of a connection on this machine, or null where the system does not
 * say. Linux lists every TCP socket with its owner in /proc/net/tcp (proc(5)): addresses and ports in hexadecimal.
 */
export function peerUser(socket: Pick<Socket, 'remotePort' | 'localPort'>): number | null {
  const port = (number: number | undefined) => (number ?? 0).toString(16).toUpperCase().padStart(4, '0');
  let table: string;
  try {
    table = readFileSync('/proc/net/tcp', 'utf8');
  } catch {
    return null;
  }
  for (const line of table.split('\n').slice(1)) {
    const [, local, remote, , , , , user] = line.trim().split(/\s+/);
    if (local?.endsWith(`:${port(socket.remotePort)}`) && remote?.endsWith(`:${port(socket.localPort)}`)) {
      return Number(user);
    }
  }
  return null;
}

/**
 * Whether the other end belongs to somebody else. The launch token stands on the browser's command line, which
 * other users of the machine can read; root could do anything anyway, and relays connections on some systems.
 */
export function isAnotherUser(socket: Pick<Socket, 'remotePort' | 'localPort'>): boolean {
  const user = peerUser(socket);
  return user !== null && user !== 0 && user !== process.getuid?.();
}
