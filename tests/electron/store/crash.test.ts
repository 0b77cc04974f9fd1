import { describe, expect, it } from 'vitest';
import { killWhileEditing, survived } from '../../stress/kills.ts';
import { scratch } from './support.ts';

const { path, beside, farm } = scratch();

describe('a killed process', () => {
  it('loses at most the edit in flight and leaves a whole file', async () => {
    farm();
    // At another moment of its work each time; `npm run stress` kills it 200 times.
    for (const wait of [3, 17, 30, 44, 61]) {
      const killed = await killWhileEditing(path('farm.gpkg'), wait);
      expect(killed.said).toBeGreaterThan(1);
      expect(survived(killed), JSON.stringify(killed)).toBe(true);
      expect(beside('farm.gpkg')).toEqual([]);
    }
  });
});
