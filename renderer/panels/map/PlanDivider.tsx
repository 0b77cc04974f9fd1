import { comparison, divider, isDivided } from '../../state/plans.ts';

const STEP = 0.02;

/** The movable divider between two plans on the map: drag it, or arrow keys when it is in focus. */
export function PlanDivider() {
  const answer = comparison.answer.value;
  if (!isDivided.value || !answer) return null;
  const at = divider.value;
  const set = (share: number) => {
    divider.value = Math.min(0.98, Math.max(0.02, share));
  };
  const follow = (event: PointerEvent) => {
    const pane = (event.currentTarget as HTMLElement).parentElement!.getBoundingClientRect();
    set((event.clientX - pane.left) / pane.width);
  };
  return (
    <div class="divider-frame">
      <span class="divider-name left" style={{ right: `${100 - 100 * at}%` }}>
        {answer.first.name}
      </span>
      <span class="divider-name right" style={{ left: `${100 * at}%` }}>
        {answer.second.name}
      </span>
      <div
        class="divider"
        role="slider"
        tabIndex={0}
        aria-label={`Divider between ${answer.first.name} on the left and ${answer.second.name} on the right`}
        aria-valuemin={2}
        aria-valuemax={98}
        aria-valuenow={Math.round(100 * at)}
        aria-valuetext={`${Math.round(100 * at)} percent from the left`}
        style={{ left: `${100 * at}%` }}
        onKeyDown={(event) => {
          const by = { ArrowLeft: -STEP, ArrowRight: STEP, Home: -1, End: 1 }[event.key];
          if (by === undefined) return;
          event.preventDefault();
          set(at + by);
        }}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
        }}
        onPointerMove={(event) => {
          if (event.buttons > 0) follow(event);
        }}
      >
        <span class="divider-grip" aria-hidden="true">
          ‹ ›
        </span>
      </div>
    </div>
  );
}
