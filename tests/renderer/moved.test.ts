import { describe, expect, it } from 'vitest';
import { movedNecks } from '../../renderer/words/moved.ts';

describe('what a change moved', () => {
  const before = [
    { rank: 1, share: 0.32, at: [0, 0] as [number, number] },
    { rank: 2, share: 0.13, at: [500, 0] as [number, number] },
    { rank: 3, share: 0.1, at: [0, 900] as [number, number] },
  ];

  it('matches necks by place and tells the largest move first', () => {
    const after = [
      { rank: 1, share: 0.2, at: [510, 10] as [number, number] },
      { rank: 2, share: 0.3, at: [5, 5] as [number, number] },
      { rank: 3, share: 0.08, at: [2000, 0] as [number, number] },
    ];
    expect(movedNecks(before, after)).toEqual([
      { name: '3, gone', before: 0.1, after: null },
      { name: '3, new', before: null, after: 0.08 },
      { name: '2, now 1', before: 0.13, after: 0.2 },
      { name: '1, now 2', before: 0.32, after: 0.3 },
    ]);
  });

  it('pairs the nearest first and says nothing of what stays', () => {
    const close = [
      { rank: 1, share: 0.3, at: [0, 0] as [number, number] },
      { rank: 2, share: 0.2, at: [40, 0] as [number, number] },
    ];
    const swapped = [
      { rank: 1, share: 0.2, at: [41, 0] as [number, number] },
      { rank: 2, share: 0.303, at: [1, 0] as [number, number] },
    ];
    expect(movedNecks(close, swapped)).toEqual([]);
  });
});
