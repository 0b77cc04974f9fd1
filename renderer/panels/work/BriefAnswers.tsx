import type { Brief, Span } from '../../../core/plan/types.ts';
import { changeSettings } from '../../state/editing.ts';
import { rowsOf } from '../../state/rows.ts';
import { table } from '../../state/tables.ts';
import { kindTitle } from '../../words/features.ts';

const put = (patch: Partial<Brief>): void => void changeSettings({ brief: patch }, false);

/** Answers that set defaults of the stands and of the work: as choices, days and numbers. */
export function BriefAnswers({ brief }: { brief: Brief }) {
  return (
    <>
      <Choice
        id="onFoot"
        label="How far they walk"
        value={brief.onFoot}
        choices={['far and steep', 'a mile on easy ground', 'short and level']}
        put={(onFoot) => put({ onFoot })}
      />
      <Choice
        id="arrive"
        label="How they come to a stand"
        value={brief.arrive}
        choices={['foot', 'vehicle']}
        words={{ foot: 'on foot', vehicle: 'driven as far as roads lead' }}
        put={(arrive) => put({ arrive })}
      />
      <StartFrom brief={brief} />
      <Days id="season" label="They can hunt" span={brief.season} put={(season) => put({ season })} />
      <Choice
        id="parts"
        label="At what time of day"
        value={brief.parts}
        choices={['mornings', 'evenings', 'mornings and evenings']}
        put={(parts) => put({ parts })}
      />
      <Choice
        id="neighbour"
        label="The neighbour’s ground"
        value={brief.neighbour}
        choices={['may be crossed', 'may not be crossed']}
        put={(neighbour) => put({ neighbour })}
      />
      <Amount
        id="budget"
        label="Money a year, $"
        value={brief.budget}
        most={1e9}
        put={(budget) => put({ budget })}
      />
      <Amount
        id="crewDays"
        label="Crew days a year"
        value={brief.crewDays}
        most={1000}
        put={(crewDays) => put({ crewDays })}
      />
      <Choice
        id="machine"
        label="Machine for lanes and plots"
        value={brief.machine}
        choices={['their own', 'hired']}
        put={(machine) => put({ machine })}
      />
      <Days
        id="stock"
        label="Stock is on the ground"
        span={brief.stockSpan}
        put={(stockSpan) => put({ stockSpan })}
      />
    </>
  );
}

/** Where people may set out: places of access, gates and houses that are drawn. */
function StartFrom({ brief }: { brief: Brief }) {
  const places = rowsOf('features', table('features').value).filter(
    ({ kind, status }) => status === 'existing' && ['access', 'gap', 'building'].includes(kind),
  );
  return (
    <label class="field" for="brief-startFrom">
      <span>They park or set out at</span>
      <select
        id="brief-startFrom"
        onChange={(event) => put({ startFrom: event.currentTarget.value || null })}
      >
        <option value="" selected={brief.startFrom === null}>
          not said
        </option>
        {places.map(({ id, name, kind }) => (
          <option key={id} value={id} selected={brief.startFrom === id}>
            {name ?? kindTitle(kind)}
          </option>
        ))}
      </select>
    </label>
  );
}

function Choice<T extends string>(props: {
  id: string;
  label: string;
  value: T | null;
  choices: readonly T[];
  words?: Record<T, string>;
  put(value: T | null): void;
}) {
  return (
    <label class="field" for={`brief-${props.id}`}>
      <span>{props.label}</span>
      <select
        id={`brief-${props.id}`}
        onChange={(event) => props.put((event.currentTarget.value || null) as T | null)}
      >
        <option value="" selected={props.value === null}>
          not said
        </option>
        {props.choices.map((choice) => (
          <option key={choice} value={choice} selected={props.value === choice}>
            {props.words?.[choice] ?? choice}
          </option>
        ))}
      </select>
    </label>
  );
}

function Amount(props: {
  id: string;
  label: string;
  value: number | null;
  most: number;
  put(value: number | null): void;
}) {
  return (
    <label class="field" for={`brief-${props.id}`}>
      <span>{props.label}</span>
      <input
        id={`brief-${props.id}`}
        type="number"
        min="0"
        max={props.most}
        step="any"
        value={props.value ?? ''}
        placeholder="not said"
        onChange={(event) => {
          const { value, valueAsNumber: typed } = event.currentTarget;
          if (value.trim() === '') props.put(null);
          else if (typed >= 0 && typed <= props.most) props.put(typed);
          else event.currentTarget.value = String(props.value ?? '');
        }}
      />
    </label>
  );
}

/** A stretch of every year; said once both days are. */
function Days(props: { id: string; label: string; span: Span | null; put(span: Span | null): void }) {
  const typed = (form: HTMLElement): void => {
    const [from, to] = [...form.querySelectorAll('input')];
    if (from!.value === '' && to!.value === '') props.put(null);
    else if (from!.value !== '' && to!.value !== '' && from!.validity.valid && to!.validity.valid)
      props.put({ from: from!.value, to: to!.value });
  };
  const day = (end: 'from' | 'to') => (
    <input
      id={`brief-${props.id}-${end}`}
      aria-label={`${props.label}, ${end === 'from' ? 'first' : 'last'} day, month-day`}
      value={props.span?.[end] ?? ''}
      pattern="(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])"
      placeholder="MM-DD"
      autocomplete="off"
      onChange={(event) => typed(event.currentTarget.closest('fieldset')!)}
    />
  );
  return (
    <fieldset class="field day-span">
      <legend>{props.label}</legend>
      {day('from')}
      <span>to</span>
      {day('to')}
    </fieldset>
  );
}
