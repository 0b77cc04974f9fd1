import { type Trouble, TroubleError } from '../service/contract.ts';
import { refused } from './trouble.ts';

/** One request as both hosts carry it; the service checks the parameters against the contract. */
export interface Envelope {
  name: string;
  params: unknown;
  binary: Uint8Array | null;
}

/** Most bytes of a JSON message: a dense property boundary is some hundred kilobytes. */
export const JSON_LIMIT = 4 * 1024 * 1024;
/** Most bytes of one part of a dropped file; the window sends larger files in parts. */
export const BINARY_LIMIT = 64 * 1024 * 1024;

const NAME = /^[a-z]+\.[a-zA-Z]{1,40}$/;

function malformed(what: string): never {
  throw new TroubleError(
    refused(
      `The message was not understood: ${what}.`,
      'Reload the window; it speaks the right language again.',
    ),
  );
}

/** Checks the shape of a message, from either host, before it goes to the service. */
export function envelope(message: unknown, binary: unknown): Envelope {
  if (typeof message !== 'object' || message === null || Array.isArray(message)) {
    malformed('it is not an object with a name and parameters');
  }
  const { name, params } = message as Record<string, unknown>;
  if (typeof name !== 'string' || !NAME.test(name)) malformed('it has no request name');
  if (typeof params !== 'object' || params === null || Array.isArray(params)) {
    malformed('its parameters are not an object');
  }
  if (binary === undefined || binary === null) return { name, params, binary: null };
  if (!(binary instanceof Uint8Array)) malformed('its binary part is not bytes');
  if (binary.byteLength > BINARY_LIMIT) throw new TroubleError(tooLarge(BINARY_LIMIT));
  return { name, params, binary };
}

/** Reads JSON text of a message. */
export function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return malformed('it is not JSON');
  }
}

/** Reads the header that carries a binary message's name and parameters: base64url of UTF-8 JSON. */
export function parseHeader(header: string | string[] | undefined): unknown {
  if (typeof header !== 'string' || !/^[A-Za-z0-9_-]+={0,2}$/.test(header)) {
    malformed('its header is not base64url');
  }
  return parseJson(Buffer.from(header, 'base64url').toString('utf8'));
}

export function tooLarge(limit: number): Trouble {
  return refused(
    `The message is larger than the ${limit / 1024 / 1024} MB taken at once.`,
    'Send a large file in parts, or open it by its path instead.',
  );
}
