import type { HoursAnswer, HoursDay } from '../../../electron/service/contract.ts';
import {
  askHours,
  chooseHoursStand,
  chooseHoursYear,
  hours,
  hoursStand,
  hoursYear,
  openDay,
} from '../../state/stand-hours.ts';
import { stands } from '../../state/stand-list.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { dayWordsOf, hourRange, hoursWords, monthOf, shortDay } from '../../words/hours.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';
import { NumberField } from '../NumberField.tsx';
import { NamedOptions } from '../options.tsx';
import { HourAxis, HourStrip, StripKey } from './HourStrip.tsx';
import { HoursOfDay } from './HoursOfDay.tsx';
import { HuntRules } from './HuntRules.tsx';
import { Arrive } from './ways.tsx';

/** The season as days by hours: when a stand may be sat, and how often the wind is good for it then. */
export function Hours() {
  const answer = hours.answer.value;
  return (
    <>
      <p class="facts">
        Every day of the season by its hours: lawful light, rest, closed ground, and how often the wind was
        good for the stand in that month at that part of the day.
      </p>
      <div class="ask-form">
        <label class="length" for="hours-stand">
          <span>Stand</span>
          <select
            id="hours-stand"
            value={hoursStand.value ?? ''}
            onChange={(event) => chooseHoursStand(event.currentTarget.value || null)}
          >
            <option value="">any of them</option>
            <NamedOptions of={stands.value} />
          </select>
        </label>
        <NumberField
          id="hours-year"
          label="Season of"
          value={hoursYear.value}
          least={1970}
          most={2100}
          whole
          put={chooseHoursYear}
        />
        <Arrive id="hours-arrive" />
        <button type="button" class="quiet" disabled={!standsReady.value} onClick={askHours}>
          Lay out the hours
        </button>
      </div>
      <section class="answer" aria-label="Hours that can be hunted" aria-live="polite">
        <Asking of={hours} what="Trying every wind, and the ways in" />
      </section>
      {answer && <Calendar answer={answer} />}
      <HuntRules />
    </>
  );
}

function Calendar({ answer }: { answer: HoursAnswer }) {
  const { days, doubts, notes, zone, names } = answer;
  const lit = days.some(({ cells }) => cells.length > 0);
  const range = hourRange(days);
  const many = Object.keys(names).length;
  return (
    <>
      <p class="para">{sumWords(answer)}</p>
      {!lit ? (
        <p class="empty">The sun does not rise or set here in these weeks, so no hour is lawful.</p>
      ) : (
        <>
          <StripKey />
          <div class="hours-calendar">
            <HourAxis {...range} zone={zone} />
            <ol aria-label="Days of the season">
              {days.map((day, k) => (
                <Day
                  key={day.date}
                  {...{ day, answer, range, many }}
                  month={k === 0 || days[k - 1]!.date.slice(0, 7) !== day.date.slice(0, 7)}
                />
              ))}
            </ol>
          </div>
        </>
      )}
      <Lines title="What this does not know" lines={doubts} kind="doubts" />
      <Lines title="What it rests on" lines={notes} kind="plain" />
    </>
  );
}

function Day(props: {
  day: HoursDay;
  answer: HoursAnswer;
  range: { first: number; last: number };
  many: number;
  month: boolean;
}) {
  const { day, answer, range, many } = props;
  const open = openDay.value === day.date;
  const { sum, more } = dayWordsOf(day, many);
  return (
    <li>
      {props.month && (
        <p class="hours-month" aria-hidden="true">
          {monthOf(day.date)}
        </p>
      )}
      <button
        type="button"
        class="hours-day"
        aria-expanded={open}
        onKeyDown={steps}
        onClick={() => {
          openDay.value = open ? null : day.date;
        }}
      >
        <span class={day.sits.length > 0 ? 'hours-date hours-sat' : 'hours-date'}>
          {shortDay(day.date)}
          <span class="unseen"> {monthOf(day.date)}: </span>
        </span>
        <HourStrip cells={day.cells} {...range} />
        <span class="hours-sum">
          {sum}
          <span class="unseen">
            {more}
            {day.sits.length > 0 && `; sat: ${day.sits.join(', ')}`}
          </span>
        </span>
      </button>
      {open && <HoursOfDay day={day} answer={answer} />}
    </li>
  );
}

/** Arrow keys step from day to day, Home and End to the ends of the season. */
function steps(event: KeyboardEvent): void {
  const from = event.currentTarget as HTMLElement;
  const days = [...from.closest('ol')!.querySelectorAll<HTMLElement>('.hours-day')];
  const at = days.indexOf(from);
  const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: days.length - 1 }[event.key];
  if (to === undefined) return;
  event.preventDefault();
  days[Math.min(days.length - 1, Math.max(0, to))]!.focus();
}

function sumWords({ days }: HoursAnswer): string {
  const lawful = days.reduce((sum, day) => sum + day.lawful, 0);
  const light = `${days.length} ${days.length === 1 ? 'day' : 'days'} with ${hoursWords(lawful)} of lawful light`;
  const sum = (key: 'usual' | 'low' | 'high') =>
    days.reduce((total, day) => total + (day.hours?.[key] ?? Number.NaN), 0);
  const usual = sum('usual');
  if (Number.isNaN(usual)) return `${light}. In how much of it the wind is good is not known.`;
  if (usual === 0) return `${light}. None of it can be hunted: open a day to see why.`;
  return `${light}. In about ${hoursWords(usual)} of it (${hoursWords(sum('low'))} to ${hoursWords(sum('high'))} for a keener and a duller nose) the wind can be hunted.`;
}
