import { useEffect, useRef } from 'preact/hooks';
import { question } from '../state/questions.ts';
import { sentence } from '../words/sentences.ts';
import { ColumnForm } from './ColumnForm.tsx';

/** The one question before the person; Escape or Cancel leaves it unanswered. */
export function QuestionDialog() {
  const dialog = useRef<HTMLDialogElement>(null);
  const asked = question.value;
  useEffect(() => {
    if (asked && !dialog.current?.open) dialog.current?.showModal();
    if (!asked && dialog.current?.open) dialog.current.close();
  }, [asked]);
  return (
    <dialog
      ref={dialog}
      class={asked?.columns ? 'wide' : ''}
      aria-labelledby="question-title"
      onCancel={(event) => {
        event.preventDefault();
        if (!asked?.trying) asked?.settle(null);
      }}
    >
      {asked && (
        <>
          <h2 id="question-title" class="question">
            {asked.title}
          </h2>
          {asked.columns ? (
            <ColumnForm asked={asked} columns={asked.columns} />
          ) : (
            <>
              <p>{sentence(asked.text)}</p>
              <div class="answers">
                {asked.choices.map((choice) => (
                  <button
                    key={choice.value}
                    type="button"
                    class="strong"
                    onClick={() => asked.settle(choice.value)}
                  >
                    {choice.label}
                  </button>
                ))}
                <button type="button" class="quiet" onClick={() => asked.settle(null)}>
                  Cancel
                </button>
              </div>
            </>
          )}
        </>
      )}
    </dialog>
  );
}
