import type { IncomingMessage } from 'node:http';
import { type Trouble, TroubleError } from '../service/contract.ts';
import { tooLarge } from './envelope.ts';
import { refused } from './trouble.ts';

/** Milliseconds a refused sender may go on before the connection is cut. */
const PATIENCE = 2000;

/** A refusal that ends the connection, with its HTTP status. */
export class BodyTrouble extends TroubleError {
  readonly status: number;
  constructor(status: number, trouble: Trouble) {
    super(trouble);
    this.status = status;
  }
}

/**
 * Reads a request's body, up to a limit in bytes. A larger one is refused as soon as that is known, from its
 * stated length or on the way, and nothing beyond the limit is kept.
 * @throws BodyTrouble with status 413 over the limit, 400 when the body breaks off.
 */
export function readBody(request: IncomingMessage, limit: number): Promise<Buffer> {
  return new Promise((resolve, reject) => {
    const over = () => {
      // The rest is let go by unread, so that the answer gets through; a sender who goes on is cut off.
      request.removeAllListeners('data').resume();
      const cut = setTimeout(() => request.socket.destroy(), PATIENCE);
      request.once('close', () => clearTimeout(cut));
      reject(new BodyTrouble(413, tooLarge(limit)));
    };
    if (Number(request.headers['content-length'] ?? 0) > limit) return over();
    const chunks: Buffer[] = [];
    let length = 0;
    request.on('data', (chunk: Buffer) => {
      length += chunk.length;
      if (length > limit) over();
      else chunks.push(chunk);
    });
    request.once('end', () => resolve(Buffer.concat(chunks, length)));
    const broken = () =>
      reject(new BodyTrouble(400, refused('The message broke off before its end.', 'Try it once more.')));
    request.once('error', broken);
    request.once('close', broken);
  });
}
