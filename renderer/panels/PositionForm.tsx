import { useRef } from 'preact/hooks';
import type { Point } from '../../core/grid/frame.ts';
import { report, summary } from '../state/session.ts';
import { geographer, parsePosition } from '../words/coordinates.ts';

/** A place typed in any of the ways a place is written. */
export function PositionForm({ label, put }: { label: string; put(at: Point): void }) {
  const typed = useRef<HTMLInputElement>(null);
  const add = (event: Event) => {
    event.preventDefault();
    const text = typed.current?.value ?? '';
    const place = parsePosition(text);
    if (!place) {
      report({
        trouble: {
          kind: 'problem',
          message: `“${text}” is not a position.`,
          file: null,
          fix: 'Write latitude, then longitude (39.42318, -82.11077, or 39° 25.391′ N, 82° 06.646′ W), UTM (17N 404345 4364412) or MGRS (17S MD 04345 64412).',
          question: null,
        },
      });
      return;
    }
    put(geographer(summary.value!.frame).toFrame(place));
    if (typed.current) typed.current.value = '';
  };
  return (
    <form class="draw-typed" onSubmit={add}>
      <label>
        <span class="unseen">{label} by its position</span>
        <input ref={typed} placeholder="39.42318, -82.11077" autocomplete="off" size={20} />
      </label>
      <button type="submit" class="quiet">
        {label}
      </button>
    </form>
  );
}
