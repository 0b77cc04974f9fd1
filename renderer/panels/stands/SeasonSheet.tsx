import { signal } from '@preact/signals';
import { formatShare } from '../../../core/features/units.ts';
import type { SheetAnswer, SheetLine } from '../../../electron/service/contract.ts';
import { standsReady } from '../../state/stands-asks.ts';
import { sheet } from '../../state/stands-when.ts';
import { dayWords } from '../../words/moment.ts';
import { partWords, windOrCalm } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { Lines, Section } from '../Finding.tsx';
import { type WindCell, WindGrid, type WindMark } from '../WindGrid.tsx';
import { HuntRules } from './HuntRules.tsx';
import { shareOrUnknown } from './shares.ts';
import { Arrive, ShowWay, waysWords } from './ways.tsx';

const chosenWindow = signal(0);
const chosenLine = signal<WindCell | null>(null);

/** All stands over the season: wind by part of the day in each window of dates, and which may not be sat together. */
export function SeasonSheet() {
  const answer = sheet.answer.value;
  return (
    <>
      <p class="facts">
        Every stand on the map under every wind: which to sit, when to be there, when to leave, or to stay
        home.
      </p>
      <div class="ask-form">
        <Arrive id="sheet-arrive" />
        <button type="button" class="quiet" disabled={!standsReady.value} onClick={() => void sheet.put({})}>
          Make the season sheet
        </button>
      </div>
      <section class="answer" aria-label="Season sheet" aria-live="polite">
        <Asking of={sheet} what="Trying every stand in every wind" />
        {answer && <Sheet answer={answer} />}
      </section>
      <HuntRules />
    </>
  );
}

function Sheet({ answer }: { answer: SheetAnswer }) {
  const { windows, apart, zone, notes } = answer;
  const at = Math.min(chosenWindow.value, windows.length - 1);
  const lines = answer.lines.filter(({ window }) => window === at);
  const lineOf = (part: string, wind: string) =>
    lines.find((line) => line.part === part && line.wind === wind);
  const parts = [...new Set(lines.map(({ part }) => part))];
  return (
    <>
      <label class="length" for="sheet-window">
        <span>Dates</span>
        <select
          id="sheet-window"
          value={at}
          onChange={(event) => {
            chosenWindow.value = Number(event.currentTarget.value);
          }}
        >
          {windows.map(({ name, from, to }, k) => (
            <option key={name} value={k}>
              {name}, {dayWords(from)} to {dayWords(to)}
            </option>
          ))}
        </select>
      </label>
      {parts.length === 0 ? (
        <p class="empty">The sun does not rise or set here in these weeks, so no hour is lawful.</p>
      ) : (
        <>
          <Home lines={lines} />
          <WindGrid
            caption="Best stand by wind and part of day, with its clean share"
            parts={parts}
            chosen={chosenLine}
            mark={(part, wind) => markOf(lineOf(part, wind))}
            told={(part, wind) => <Told line={lineOf(part, wind)!} zone={zone} />}
            legend="A dash means stay home, ? behind a share that it holds for the usual nose only. A cell opens the line."
          />
        </>
      )}
      <Apart apart={apart} />
      <Lines title="What it rests on" lines={notes} kind="plain" />
    </>
  );
}

/** How much of the hours the sheet sends everyone home, where a record tells. */
function Home({ lines }: { lines: readonly SheetLine[] }) {
  const known = lines.filter(({ share }) => share !== null);
  const parts = [...new Set(known.map(({ part }) => part))];
  if (parts.length === 0)
    return <p class="facts">How often each wind blows is not known without a wind record.</p>;
  const home = (part: string) =>
    known
      .filter((line) => line.part === part && line.choices.length === 0)
      .reduce((sum, { share }) => sum + share!, 0);
  return (
    <p class="para">
      Stay home:{' '}
      {parts.map((part) => `${formatShare(home(part))} of the hours ${partWords(part)}`).join(', ')}.
    </p>
  );
}

/** `Saddle` of `Saddle stand`, cut to what a cell holds. */
function shortName(name: string): string {
  const bare = name.replace(/\s+(stand|blind)$/i, '');
  return bare.length <= 10 ? bare : `${bare.slice(0, 9)}…`;
}

function markOf(line: SheetLine | undefined): WindMark | null {
  if (!line) return null;
  const best = line.choices[0];
  if (!best) return { sign: '–', says: 'stay home' };
  const figure = `${formatShare(best.clean)}${best.firm ? '' : '?'}`;
  const sign = shortName(best.name);
  return { sign, says: `${sign} ${figure} clean${best.firm ? '' : ', in doubt'}`, figure, good: best.firm };
}

function Told({ line, zone }: { line: SheetLine; zone: string }) {
  const { choices, part, wind, share, seated, until, leave } = line;
  return (
    <>
      <p class="finding-title">
        {windOrCalm(wind)}, {part}
      </p>
      <p class="para">{line.sentence}</p>
      {choices.length > 0 && (
        <>
          <p class="facts">
            Seated by {seated}, until {until} {zone} on the middle day of these dates.
            {leave ? ' Leave then: this wind cannot be sat there in the next part of the day.' : ''}
          </p>
          <ol class="choices">
            {choices.map(({ stand, name, clean, firm, ways }) => (
              <li key={stand}>
                {name}: {formatShare(clean)} clean{firm ? '' : ', in doubt'}. {waysWords(ways)}{' '}
                <ShowWay ways={ways} name={name} />
              </li>
            ))}
          </ol>
        </>
      )}
      <p class="facts">
        {share === null
          ? 'How often it blows is not known without a wind record.'
          : `It blows in ${shareOrUnknown(share)} of these hours.`}
      </p>
    </>
  );
}

function Apart({ apart }: { apart: SheetAnswer['apart'] }) {
  return (
    <Section title="Not sat together" count={apart.length}>
      {apart.length === 0 ? (
        <p class="empty">No two stands spoil each other.</p>
      ) : (
        <ul class="lines plain">
          {apart.map(({ stands, names, cases, why }) => (
            <li key={stands.join(' ')}>
              {names.join(' and ')}: {cases === null ? 'never.' : `${casesWords(cases)}.`} {why}
            </li>
          ))}
        </ul>
      )}
    </Section>
  );
}

/** `in the morning with N, NE; at midday with calm air`. */
function casesWords(cases: NonNullable<SheetAnswer['apart'][number]['cases']>): string {
  const parts = [...new Set(cases.map(({ part }) => part))];
  return parts
    .map((part) => {
      const winds = cases.filter((each) => each.part === part).map(({ wind }) => wind);
      const words = winds.map((wind) => (wind === 'calm' ? 'calm air' : wind));
      return `${partWords(part)} with ${winds.length > 15 ? 'nearly any wind' : words.join(', ')}`;
    })
    .join('; ');
}
