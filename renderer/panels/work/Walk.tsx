import { useEffect, useState } from 'preact/hooks';
import { capital, formatLength, formatShare } from '../../../core/features/units.ts';
import type { WalkChoice, WalkSpot } from '../../../core/plan/types.ts';
import { units } from '../../state/session.ts';
import { flyTo } from '../../state/view.ts';
import { answerStop, walk, walkShown } from '../../state/walk.ts';
import { datesInWords } from '../../words/work.ts';
import { Finding, Lines } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

/** Where to walk before anything is promised, in order, with a place for what was found. */
export function Walk() {
  useEffect(() => {
    walkShown.value = true;
    return () => {
      walkShown.value = false;
    };
  }, []);
  const list = walk.value;
  if (!list) return <Waiting what="The walk list" />;
  const { spots, elsewhere } = list;
  const found = spots.filter((spot) => spot.found).length;
  return (
    <>
      <p class="facts">
        {spots.length === 0
          ? 'Nothing here hinges on what only a walk can show.'
          : `${spots.length} stops where the answer hinges on what no photo or elevation shows, in walking order from ${list.startName}: ${formatLength(list.length, units.value)} as the crow flies, and back. ${found} answered.`}
      </p>
      {spots.length > 0 && (
        <p class="facts">
          The export has the stops as walk.gpx. A stop’s point brought back with one of the words below at the
          head of its description answers it: drop the file on the map.
        </p>
      )}
      <ol class="findings walk-stops">
        {spots.map((spot) => (
          <Stop key={spot.id} spot={spot} />
        ))}
      </ol>
      <Lines
        title="On a neighbour’s ground: ask first, or look from the line"
        lines={elsewhere.map(({ title, hinges }) => `${title}: ${hingesInWords(hinges)}`)}
        kind="plain"
      />
      <Lines
        title="What this cannot know"
        kind="doubts"
        lines={['Legs between stops are straight on the map; the ground decides how they are walked.']}
      />
      <Lines
        title="Cautions"
        kind="caution"
        lines={[
          'Ask before you cross a line. Keep off rails and out of fast water, and stay out of bedding in season.',
        ]}
      />
    </>
  );
}

const hingesInWords = (hinges: number | null): string =>
  hinges === null
    ? 'how much hinges on it is not known'
    : `${formatShare(hinges)} of all travel hinges on it`;

const setsInWords = ({ sets }: WalkChoice): string =>
  sets === null
    ? 'It is written down; nothing computed changes by it.'
    : sets.kind === 'gap'
      ? 'A gap is put into the line here, and travel is computed with it.'
      : `Cover as it was seen is put on the map for ${formatLength(sets.about, units.value)} about here, our assumption, and travel is computed with it: draw it where it reaches farther.`;

function Stop({ spot }: { spot: WalkSpot }) {
  const { id, number, title, why, hinges, look, photograph, choices, found } = spot;
  const [choice, setChoice] = useState(found?.answer ?? '');
  const chosen = choices.find(({ key }) => key === choice) ?? null;
  const typed = found ? wordsAfter(found.text, choices) : '';
  const [text, setText] = useState(typed);
  const same = choice === (found?.answer ?? '') && text === typed;
  return (
    <>
      <Finding
        id={id}
        flag={found ? '✓' : number}
        flagClass={found ? 'square' : 'square open'}
        title={`${number}. ${title}`}
        onPick={() => flyTo(null, [spot.at], 150)}
      >
        {why} {capital(hingesInWords(hinges))}. Look for: {look.join('; ')}. Photograph:{' '}
        {photograph.join('; ')}.
        {found && ` Found${found.date ? ` ${datesInWords(found.date, found.date)}` : ''}: ${found.text}.`}
      </Finding>
      <li class="tick">
        <form
          class="walk-answer"
          onSubmit={(event) => {
            event.preventDefault();
            void answerStop(id, choice || null, text.trim());
          }}
        >
          <select
            aria-label={`Found at stop ${number}`}
            value={choice}
            onChange={(event) => setChoice(event.currentTarget.value)}
          >
            <option value="">Found…</option>
            {choices.map((each) => (
              <option key={each.key} value={each.key}>
                {each.key}: {each.title}
              </option>
            ))}
          </select>
          <input
            aria-label={`In words, stop ${number}`}
            placeholder="in words"
            maxLength={2000}
            value={text}
            autocomplete="off"
            onInput={(event) => setText(event.currentTarget.value)}
          />
          <button type="submit" class="quiet small" disabled={same || (choice === '' && text.trim() === '')}>
            Write down<span class="unseen">: stop {number}</span>
          </button>
          {chosen && <p class="finding-text">{setsInWords(chosen)}</p>}
        </form>
      </li>
    </>
  );
}

/** What was typed beside the choice's own words. */
function wordsAfter(text: string, choices: readonly WalkChoice[]): string {
  const start = choices.find(({ title }) => text === title || text.startsWith(`${title}: `));
  return start ? text.slice(start.title.length).replace(/^: /, '') : text;
}
