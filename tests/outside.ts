import { appendFileSync } from 'node:fs';
import { expect } from 'vitest';
import type { ReferenceCheck } from '../core/analysis/report-model/reference-checks.ts';

/** What a method is compared with, and how far it may lie from it. */
type About = Pick<ReferenceCheck, 'room' | 'method' | 'source' | 'allowed' | 'unit'>;

/**
 * A check against something outside the project: collects the differences of all cases, holds the largest to what is
 * allowed, and writes it down for `npm run reference`, which asks for that by an environment variable.
 *
 * @param about `unit` says what the difference is measured in, such as `m` or `of the value`
 */
export function outside(about: About) {
  let cases = 0;
  let largest = 0;
  return {
    /** One case; not-a-number and infinity equal themselves alone. `scale` is what the difference is measured by. */
    compare(found: number, wanted: number, scale = 1): void {
      cases++;
      if (Object.is(found, wanted)) return;
      const difference = Math.abs(found - wanted) / scale;
      largest = Math.max(largest, Number.isNaN(difference) ? Number.POSITIVE_INFINITY : difference);
    },
    /** Cases that are right or wrong: their difference is the number of those that are wrong. */
    same(found: unknown, wanted: unknown): void {
      cases++;
      if (JSON.stringify(found) !== JSON.stringify(wanted)) largest++;
    },
    /** Many cases at once, of which some are wrong: their difference is the part that is. */
    part(wrong: number, of: number): void {
      cases += of;
      largest = Math.max(largest, wrong / of);
    },
    /** Ends the check: there were cases, and none lay farther off than is allowed. */
    done(): void {
      expect(cases, `cases of ${about.method}`).toBeGreaterThan(0);
      expect(largest, `${about.method} against ${about.source}`).toBeLessThanOrEqual(about.allowed);
      const record = process.env.HOLLOWGATE_REFERENCE;
      if (record) appendFileSync(record, `${JSON.stringify({ ...about, cases, largest })}\n`);
    },
  };
}
