import { useEffect } from 'preact/hooks';
import { capital, decimal } from '../../../core/features/units.ts';
import type { DraftAnswer, DraftRow, DraftSizeRow } from '../../../electron/service/contract.ts';
import {
  askDraft,
  chosenLines,
  draft,
  draftIsOld,
  draftShown,
  draftSize,
  isInPlan,
  numberOf,
  putDraft,
  seekStands,
  setDays,
} from '../../state/draft.ts';
import { pointsOf } from '../../state/rows.ts';
import { run, stale, summary } from '../../state/session.ts';
import { flyTo } from '../../state/view.ts';
import { work } from '../../state/work.ts';
import { dollars, hours } from '../../words/work.ts';
import { Asking } from '../Asking.tsx';
import { Finding, Lines, Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

/** A plan the program drafts, in three sizes, to be argued with line by line before anything is put on the map. */
export function Draft() {
  useEffect(() => {
    draftShown.value = true;
    return () => {
      draftShown.value = false;
    };
  }, []);
  const answer = draft.answer.value;
  if (!summary.value!.tables.some(({ name }) => name === 'necks'))
    return <Waiting what="Travel to draft for" />;
  const busy = draft.progress.value !== null;
  return (
    <>
      <p class="facts">
        Seeks barricades, trails, bedding and stands on the client’s own ground and solves travel with each of
        them built. A plan to argue with: nothing is drawn until you put it in.
      </p>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          void askDraft();
        }}
      >
        <Days size="weekend" label="Days of a weekend" />
        <Days size="winter" label="Days of a winter" />
        <label>
          <input
            type="checkbox"
            checked={seekStands.value}
            onChange={(event) => {
              seekStands.value = event.currentTarget.checked;
            }}
          />{' '}
          New stands, and those that are there: takes two minutes
        </label>
        <button type="submit" class="strong" disabled={busy || run.value !== null || stale.value}>
          Draft a plan
        </button>
      </form>
      {stale.value && run.value === null && (
        <p class="facts">Run the scout first: something was changed since the last.</p>
      )}
      <section class="answer" aria-label="The draft" aria-live="polite">
        <Asking of={draft} what="Drafting a plan" />
        {answer && <Answer answer={answer} />}
      </section>
    </>
  );
}

/** Days of the saw crew in a size, our assumption until they are set. */
function Days({ size, label }: { size: 'weekend' | 'winter'; label: string }) {
  const typed = work.value?.rates.find(({ key }) => key === `draft.${size}`)?.typed;
  return (
    <label class="length" for={`draft-${size}`}>
      <span>{label}</span>
      <input
        id={`draft-${size}`}
        type="number"
        min="0"
        max="365"
        step="any"
        value={typed ?? ''}
        key={typed}
        onChange={(event) => {
          const days = event.currentTarget.valueAsNumber;
          if (Number.isFinite(days) && days >= 0 && days !== typed) void setDays(size, days);
          else event.currentTarget.value = String(typed ?? '');
        }}
      />
    </label>
  );
}

function Answer({ answer }: { answer: DraftAnswer }) {
  const size = answer.sizes.find((each) => each.size === draftSize.value)!;
  const { passed, advice, notes, unchecked, cautions } = answer;
  return (
    <>
      {draftIsOld.value && (
        <p class="caution-line" role="status">
          Something was changed since this draft; what it says is of before.
        </p>
      )}
      <fieldset class="pill-row">
        <legend class="unseen">How much of it</legend>
        {answer.sizes.map((each) => (
          <button
            key={each.size}
            type="button"
            class="quiet small"
            aria-pressed={each === size}
            onClick={() => {
              draftSize.value = each.size;
            }}
          >
            {each.title} ({each.lines.length})
          </button>
        ))}
      </fieldset>
      <Size size={size} />
      <Told title="At the stands that are there" rows={advice} />
      <Told
        title={`Left out of ${size.title.toLowerCase()}`}
        rows={size.left.map(({ name, why }) => ({ what: name, why }))}
      />
      <Told title="Looked at and not proposed" rows={passed} />
      <Lines title="How it was chosen" lines={notes} kind="plain" />
      <Lines title="What was not checked" lines={unchecked} kind="doubts" />
      <Lines title="Cautions" lines={cautions} kind="caution" />
    </>
  );
}

function Told({ title, rows }: { title: string; rows: readonly { what: string; why: string }[] }) {
  if (rows.length === 0) return null;
  return (
    <Section title={title} count={rows.length}>
      <ul class="passed">
        {rows.map(({ what, why }) => (
          <li key={`${what} ${why}`}>
            <p class="finding-text">
              <strong>{what}.</strong> {why}
            </p>
          </li>
        ))}
      </ul>
    </Section>
  );
}

function Size({ size }: { size: DraftSizeRow }) {
  const lines = chosenLines.value;
  const open = lines.filter((line) => !isInPlan(line));
  if (lines.length === 0) return <p class="para">Nothing that was found fits here; why is said below.</p>;
  return (
    <>
      <p class="para">
        {lines.length === 1 ? 'One line' : `${lines.length} lines`}, {hours(size.hours)}
        {size.budget === null ? '' : ` of ${decimal(size.budget, 0)} h`}, about {dollars(size.money)}.
      </p>
      <Lines title="With all of it built" lines={size.effects} kind="plain" />
      <ol class="findings">
        {lines.map((line) => (
          <Line key={line.feature.id} line={line} />
        ))}
      </ol>
      <div class="ask-form">
        <button
          type="button"
          class="strong"
          disabled={open.length === 0}
          onClick={() => void putDraft(size.title)}
        >
          {open.length === 0 ? 'All of it is in the plan' : `Put ${open.length} into the plan`}
        </button>
      </div>
    </>
  );
}

function Line({ line }: { line: DraftRow }) {
  const { feature, name, reasons, cautions, needs, takes, money } = line;
  const inPlan = isInPlan(line);
  return (
    <>
      <Finding
        id={feature.id}
        flag={inPlan ? '✓' : numberOf(line)}
        flagClass={inPlan ? 'square' : 'square open'}
        title={`${name}: ${hours(line.hours)}, ${dollars(money)}`}
        onPick={() =>
          flyTo(inPlan ? { type: 'feature', id: feature.id } : null, pointsOf(feature.geometry), 200)
        }
      >
        {reasons[0]}
        {needs.length > 0 && ` Worth far less without ${needs.join(' and ')}.`}
      </Finding>
      <li class="tick">
        <details class="lines">
          <summary>
            Reasons and doubts<span class="unseen">: {name}</span>
          </summary>
          <ul>
            {[`${capital(takes)}.`, ...reasons.slice(1), ...cautions].map((words) => (
              <li key={words}>{words}</li>
            ))}
          </ul>
        </details>
      </li>
    </>
  );
}
