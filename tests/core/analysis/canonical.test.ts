import { expect, test } from 'vitest';
import { canonical } from '../../../core/analysis/canonical.ts';

test('member order does not matter, array order does', () => {
  expect(canonical({ b: 1, a: [1, 2] })).toBe(canonical({ a: [1, 2], b: 1 }));
  expect(canonical([1, 2])).not.toBe(canonical([2, 1]));
});

test('undefined members are as absent; null is not', () => {
  expect(canonical({ a: undefined, b: null })).toBe('{"b":null}');
});

test('numbers that JSON has no word for stay apart from each other and from null', () => {
  const texts = [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, null].map(canonical);
  expect(new Set(texts).size).toBe(4);
});

test('finite values read back as they were', () => {
  const value = { text: 'a "quoted" ½', deep: { list: [0.1, -0, 1e-7, true] } };
  expect(JSON.parse(canonical(value))).toEqual({ ...value, deep: { list: [0.1, 0, 1e-7, true] } });
});
