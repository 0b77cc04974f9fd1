import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { REFERENCE_CHECKS } from '../core/analysis/report-model/reference-checks.ts';
import { outside } from './outside.ts';

const about = { room: 'grid', method: 'a method', source: 'a source', unit: 'm', allowed: 0.1 };

test('a check fails without cases, beyond what is allowed, and where one side alone has no answer', () => {
  expect(() => outside(about).done()).toThrow(/cases of a method/);
  const far = outside(about);
  far.compare(1, 1.2);
  expect(() => far.done()).toThrow(/a method against a source/);
  const unknown = outside(about);
  unknown.compare(Number.NaN, 1);
  expect(() => unknown.done()).toThrow();
  const near = outside(about);
  near.compare(Number.NaN, Number.NaN);
  near.compare(200, 210, 100);
  near.part(1, 100);
  near.done();
});

test('what is printed of the checks is whole, within what is allowed, and the same in both places', () => {
  const page = readFileSync(new URL('../docs/reference.md', import.meta.url), 'utf8');
  const rooms = new Set(REFERENCE_CHECKS.map(({ room }) => room));
  for (const room of ['terrain', 'cover', 'travel', 'air', 'stands', 'plan', 'readers', 'store', 'writers'])
    expect(rooms).toContain(room);
  for (const { room, method, source, cases, largest, allowed } of REFERENCE_CHECKS) {
    expect(cases, method).toBeGreaterThan(0);
    // Written to two digits.
    expect(largest, method).toBeLessThanOrEqual(1.05 * allowed);
    expect(page).toContain(`| ${room} | ${method} | ${source} | ${cases} |`);
  }
  expect(page.split('\n').filter((line) => line.startsWith('| '))).toHaveLength(REFERENCE_CHECKS.length + 2);
});
