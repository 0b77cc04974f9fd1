import { summary } from '../state/session.ts';
import { STAGE_TITLE, STAGES, type Stage } from '../state/stages.ts';
import { goTo, stage } from '../state/view.ts';
import { Glyph } from './Glyph.tsx';

/** What must be there for a stage to have something to say. */
const NEEDS: Record<Stage, string | null> = {
  ground: 'slope',
  cover: 'cover',
  travel: 'necks',
  air: 'cold-air',
  stands: 'stand-risks',
  work: null,
  report: 'stand-risks',
};

export function Spine() {
  const ready = new Set([
    ...(summary.value?.layers.map((layer) => layer.name) ?? []),
    ...(summary.value?.tables.map((table) => table.name) ?? []),
  ]);
  return (
    <nav class="spine" aria-label="Stages">
      <ol>
        {STAGES.map((name, order) => {
          const need = NEEDS[name];
          const done = need === null || ready.has(need);
          return (
            <li key={name}>
              <button
                type="button"
                class="stage"
                aria-current={stage.value === name ? 'step' : undefined}
                onClick={() => goTo(name)}
                title={`${STAGE_TITLE[name]} (${order + 1})`}
              >
                <Glyph name={name} size={24} />
                <span>{STAGE_TITLE[name]}</span>
                {!done && (
                  <span class="waiting">
                    <span class="unseen">, </span>not yet
                  </span>
                )}
              </button>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}
