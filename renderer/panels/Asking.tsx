import type { ReadonlySignal } from '@preact/signals';

/** How far a question has come, and the button that takes it back. */
export function Asking({
  of,
  what,
}: {
  of: { progress: ReadonlySignal<number | null>; takeBack(): void };
  what: string;
}) {
  const share = of.progress.value;
  if (share === null) return null;
  const percent = Math.round(share * 100);
  return (
    <div class="asking">
      <div
        class="asking-bar"
        role="progressbar"
        aria-label={what}
        aria-valuemin={0}
        aria-valuemax={100}
        aria-valuenow={percent}
      >
        <div class="bar-done" style={{ width: `${percent}%` }} />
      </div>
      <button type="button" class="quiet small" onClick={of.takeBack}>
        Stop
      </button>
    </div>
  );
}
