import type { Signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';

/** Leaves of a page, one shown at a time; arrow keys move between their names. */
export function Leaves<T extends string>(props: {
  label: string;
  chosen: Signal<T>;
  leaves: { id: T; title: string; body(): ComponentChildren }[];
}) {
  const { chosen, leaves } = props;
  const now = leaves.find((leaf) => leaf.id === chosen.value) ?? leaves[0]!;
  const move = (event: KeyboardEvent) => {
    const step = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
    if (step === 0) return;
    event.preventDefault();
    const next = leaves[(leaves.indexOf(now) + step + leaves.length) % leaves.length]!;
    chosen.value = next.id;
    (event.currentTarget as HTMLElement).querySelector<HTMLElement>(`#leaf-${next.id}`)?.focus();
  };
  return (
    <>
      <div role="tablist" aria-label={props.label} class="leaves" onKeyDown={move}>
        {leaves.map((leaf) => (
          <button
            key={leaf.id}
            type="button"
            role="tab"
            id={`leaf-${leaf.id}`}
            aria-selected={leaf === now}
            aria-controls="leaf-body"
            tabIndex={leaf === now ? 0 : -1}
            onClick={() => {
              chosen.value = leaf.id;
            }}
          >
            {leaf.title}
          </button>
        ))}
      </div>
      <div role="tabpanel" id="leaf-body" aria-labelledby={`leaf-${now.id}`}>
        {now.body()}
      </div>
    </>
  );
}
