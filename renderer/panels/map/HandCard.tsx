import { formatShare } from '../../../core/features/units.ts';
import type { OnwardAnswer, SmelledAnswer } from '../../../electron/service/contract.ts';
import {
  airMaking,
  handAt,
  handHeld,
  handLow,
  handOn,
  letGo,
  onward,
  smelledTold,
} from '../../state/hand.ts';
import { stale } from '../../state/session.ts';
import { stage } from '../../state/view.ts';
import { Glyph } from '../Glyph.tsx';

/** What is told of the spot the pointer rests on. */
export function HandCard() {
  if (!handAt.value) return null;
  const told = onward.told.value;
  const scent = smelledTold.value;
  const held = handHeld.value;
  return (
    <section
      class={`card hand${held ? ' held' : ''}${handLow.value ? ' high' : ''}`}
      aria-label="Under the hand"
    >
      {/* What the pointer passes is not read out; what was asked for and kept is. */}
      <div class="hand-parts" role={held ? 'status' : undefined}>
        <div>
          <h2>A deer here goes next</h2>
          {told && 'answer' in told && <Onward answer={told.answer} />}
          {told && 'why' in told && <p>{told.why}</p>}
          {!told && <p class="hint">Following travel from here…</p>}
        </div>
        <div>
          <h2>A person here is smelled</h2>
          {scent && 'answer' in scent && <Smelled answer={scent.answer} />}
          {scent && 'why' in scent && <p>{scent.why}</p>}
          {!scent && (
            <p class="hint">
              {airMaking.value
                ? 'Making the air of this hour, some seconds, once…'
                : 'Following scent from here…'}
            </p>
          )}
        </div>
      </div>
      {held ? (
        <button type="button" class="icon fold" onClick={letGo}>
          <Glyph name="close" size={16} />
          <span class="unseen">Let go of this spot</span>
        </button>
      ) : (
        <p class="hint">H or the right button keeps it; Escape lets it go.</p>
      )}
    </section>
  );
}

function Onward({ answer }: { answer: OnwardAnswer }) {
  return (
    <>
      <p>
        {answer.sentence}
        {stale.value && ' As it was last scouted.'}
      </p>
      {(answer.ways.length > 0 || answer.stays > 0) && (
        <ul class="hand-ways">
          {answer.ways.map(({ share, bearing, words }) => (
            <li key={words}>
              <Arrow bearing={bearing} />
              <b>{formatShare(share)}</b> {words}
            </li>
          ))}
          {answer.stays > 0.005 && (
            <li>
              <span class="hand-stays" aria-hidden="true" />
              <b>{formatShare(answer.stays)}</b> at the end of its way here
            </li>
          )}
        </ul>
      )}
      {handHeld.value && <Notes notes={answer.notes} />}
    </>
  );
}

function Smelled({ answer }: { answer: SmelledAnswer }) {
  return (
    <>
      <p class="hint">
        {stage.value !== 'air' && 'By the clock in Air: '}
        {answer.when}
      </p>
      <p>{answer.sentences.join(' ')}</p>
      {handHeld.value && <Notes notes={answer.notes} />}
    </>
  );
}

const Notes = ({ notes }: { notes: readonly string[] }) => (
  <details class="hint">
    <summary>What this rests on</summary>
    {notes.map((note) => (
      <p key={note}>{note}</p>
    ))}
  </details>
);

const Arrow = ({ bearing }: { bearing: number }) => (
  <svg width="16" height="16" viewBox="-8 -8 16 16" aria-hidden="true" class="hand-arrow">
    <path d="M0 7V-6M-4-2 0-6 4-2" transform={`rotate(${Math.round(bearing)})`} />
  </svg>
);

/** Turns the asking by rest on and off. */
export const HandButton = () => (
  <button
    type="button"
    class="quiet icon"
    aria-pressed={handOn.value}
    title="Under the hand: rest the pointer on the map to see where a deer there goes next and where a person there is smelled (H keeps the spot)"
    onClick={() => {
      handOn.value = !handOn.value;
      letGo();
    }}
  >
    <Glyph name="hand" />
    <span class="unseen">Tell of the spot the pointer rests on</span>
  </button>
);
