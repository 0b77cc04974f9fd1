import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';

/** One window's right to speak: a token in the address, good once, for a secret the window keeps. */
export interface Session {
  readonly token: string;
  /** The secret for the right token the first time; after that, or for another token, why not. */
  exchange(token: string): { secret: string } | { refusal: 'wrong' | 'used' };
  holds(secret: string): boolean;
}

/** Compares digests, so that neither length nor content can be timed. */
function same(a: string, b: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}

export function createSession(): Session {
  const token = randomBytes(32).toString('base64url');
  const secret = randomBytes(32).toString('base64url');
  let used = false;
  return {
    token,
    exchange(offered) {
      if (!same(offered, token)) return { refusal: 'wrong' };
      if (used) return { refusal: 'used' };
      used = true;
      return { secret };
    },
    holds: (offered) => used && same(offered, secret),
  };
}
