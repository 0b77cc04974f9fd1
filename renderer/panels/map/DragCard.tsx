import { formatShare } from '../../../core/features/units.ts';
import type { DraggedAnswer } from '../../../electron/service/contract.ts';
import { dragOpen, dragSolving, dragTold } from '../../state/dragging.ts';
import { handLow } from '../../state/hand.ts';

/** What travel does with a proposal where it is dragged to. */
export function DragCard() {
  if (!dragOpen.value) return null;
  const told = dragTold.value;
  return (
    <section class={`card hand drag${handLow.value ? ' high' : ''}`} aria-label="Travel with it here">
      <h2>Travel with it here</h2>
      {told && 'answer' in told && <Answer answer={told.answer} />}
      {told && 'why' in told && <p>{told.why}</p>}
      <p class="hint">
        {dragSolving.value
          ? 'Solving where it is now…'
          : told && 'answer' in told
            ? `Solved in ${told.answer.seconds.toFixed(1)} s, all else as proposed. Dashed lines are today’s.`
            : ''}
      </p>
    </section>
  );
}

function Answer({ answer }: { answer: DraggedAnswer }) {
  return (
    <>
      <ul class="drag-necks">
        {answer.necks.map(({ id, rank, before, after }) => (
          <li key={id}>
            Neck {rank}: {formatShare(before)} → <b>{formatShare(after)}</b>
          </li>
        ))}
      </ul>
      <p>{answer.sentences.join(' ')}</p>
    </>
  );
}
