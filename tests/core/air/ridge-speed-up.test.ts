import { expect, test } from 'vitest';
import { ridgeSpeedUp } from '../../../core/air/ridge-speed-up.ts';
import { outside } from '../../outside.ts';

test('a low ridge speeds sheared wind up by 2 h/L (Jackson & Hunt 1975); beyond the theory it refuses', () => {
  // Askervein: 116 m high, about 250 m from crest to half height; 0.8 to 0.9 was measured at 10 m (value from memory).
  expect(ridgeSpeedUp(116, 250)).toBeGreaterThan(0.8);
  expect(ridgeSpeedUp(116, 250)).toBeLessThan(1);
  const check = outside({
    room: 'air',
    method: 'Speed-up of sheared wind over a low ridge',
    source: 'Jackson & Hunt 1975, 2 h/L',
    unit: 'of the speed',
    allowed: 1e-12,
  });
  check.compare(ridgeSpeedUp(10, 200), 0.1);
  check.done();
  expect(ridgeSpeedUp(0, 200)).toBe(0);
  expect(() => ridgeSpeedUp(150, 200)).toThrow(/linear theory/);
});
