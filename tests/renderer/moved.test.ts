import { describe, expect, it } from 'vitest';
import { movedLines } from '../../renderer/words/moved.ts';

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
    expect(movedLines(before, after)).toEqual([
      'Neck 3, 10% before, is no neck any more.',
      'Neck 3 is new: 8%.',
      'Neck 2 goes from 13% to 20% and is number 1 now.',
      'Neck 1 goes from 32% to 30% and is number 2 now.',
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
    expect(movedLines(close, swapped)).toEqual([]);
  });
});
