import { useRef } from 'preact/hooks';
import type { Point } from '../../core/grid/frame.ts';
import { report, summary } from '../state/session.ts';
import { geographer, parsePosition } from '../words/coordinates.ts';

/** A place typed as latitude and longitude. */
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
          fix: 'Write latitude, then longitude, in degrees: 39.42318, -82.11077.',
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
        <span class="unseen">{label} by latitude and longitude</span>
        <input ref={typed} placeholder="39.42318, -82.11077" autocomplete="off" size={20} />
      </label>
      <button type="submit" class="quiet">
        {label}
      </button>
    </form>
  );
}
