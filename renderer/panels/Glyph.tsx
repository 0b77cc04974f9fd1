import type { Stage } from '../state/stages.ts';

/** Small line drawings, ours, 24 units square. They decorate; the word beside them names the thing. */
const PATHS: Record<
  | Stage
  | 'mark'
  | 'undo'
  | 'redo'
  | 'plus'
  | 'minus'
  | 'home'
  | 'close'
  | 'back'
  | 'draw'
  | 'measure'
  | 'relief'
  | 'keep'
  | 'hand',
  string
> = {
  mark: 'M4 3c4.5 4 4.5 14 0 18M20 3c-4.5 4-4.5 14 0 18M12 4.5v3M12 10.5v3M12 16.5v3',
  ground: 'M2 19c4-1 5-9 9-9s4 6 11 5M2 14c3-1 5-9 9-9s5 7 11 6',
  cover: 'M8 21v-4M8 17H3.5L8 10.5 12.5 17ZM5.6 12.6 8 4.5l2.4 8.1M17 21v-6M17 15a3.6 3.6 0 1 0-.1 0',
  travel: 'M3 4c7 3 7 13 0 16M21 4c-7 3-7 13 0 16M12 3v2.5M12 8.5V11M12 14v2.500M12 19v2',
  air: 'M2 8c4-4 7 2 11 0s4-5 7-3M3 13c4-3 7 2 10 0s5-3 8-1M2 18c4-3 7 2 11 0',
  stands: 'M7 21 9 9M17 21 15 9M6 9h12M8.5 9V4.500h7V9M8.300 13h7.400M7.700 17h8.600',
  work: 'M4 20 14.500 9.500M12 7l5 5 3-1.500c.5-3-3-7.500-6.500-6.500Z',
  report: 'M6 3h9l4 4v14H6ZM15 3v4h4M9 12h7M9 16h7',
  undo: 'M9 5 4 10l5 5M4 10h10a5 5 0 0 1 0 10h-3',
  redo: 'M15 5l5 5-5 5M20 10H10a5 5 0 0 0 0 10h3',
  plus: 'M12 5v14M5 12h14',
  minus: 'M5 12h14',
  home: 'M4 4h6M4 4v6M20 4h-6M20 4v6M4 20h6M4 20v-6M20 20h-6M20 20v-6',
  close: 'M6 6l12 12M18 6 6 18',
  back: 'M14 5l-7 7 7 7',
  measure: 'M3 15 15 3l6 6L9 21ZM7 11l2.500 2.500M10 8l1.800 1.800M13 5l2.500 2.500',
  relief: 'M2 15l6-8 4 5 3-4 7 7M2 15v4h20v-4',
  keep: 'M3 6h18v13H3ZM3 15l5-5 4 4 3-2 6 4M16 9.500h.01',
  hand: 'M8 21 5 14c-.6-1.500 1-2.400 2-1.200l2 2.200V4.500a1.400 1.400 0 0 1 2.800 0V11l5.200 1.200c1.300.3 2 1.300 1.800 2.600L18 21Z',
  draw: 'M4 20l1-4L16 5l3 3L8 19ZM14 7l3 3',
};

export function Glyph({ name, size = 22 }: { name: keyof typeof PATHS; size?: number }) {
  return (
    <svg width={size} height={size} viewBox="0 0 24 24" aria-hidden="true" class="glyph">
      <path d={PATHS[name]} />
    </svg>
  );
}
