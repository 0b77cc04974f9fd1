import { formatLength, formatShare } from '../../../core/features/units.ts';
import type { ScreenAnswer, ScreenPlant } from '../../../electron/service/contract.ts';
import { units } from '../../state/session.ts';
import { standsReady } from '../../state/stands-asks.ts';
import {
  drawnScreens,
  proposeScreen,
  type ScreenShape,
  screenForm,
  screenReady,
  screens,
  setScreen,
  tryScreen,
  waysToHide,
} from '../../state/stands-screens.ts';
import { flyTo } from '../../state/view.ts';
import { kindTitle } from '../../words/features.ts';
import { PLANT_WORDS } from '../../words/stands.ts';
import { Asking } from '../Asking.tsx';
import { Lines } from '../Finding.tsx';
import { LengthField } from '../LengthField.tsx';
import { NumberField } from '../NumberField.tsx';
import { NamedOptions, SectorOptions } from '../options.tsx';

const SHAPES: Record<ScreenShape, string> = {
  crescent: 'a crescent round the stand',
  beside: 'a line beside a way',
  drawn: 'a screen that is drawn',
};

/** What a screen hides, and from which season on. */
export function Screens() {
  const form = screenForm.value;
  const answer = screens.answer.value;
  const named = (rows: typeof waysToHide.value) =>
    rows.map(({ id, name, kind }) => ({ id, name: name ?? kindTitle(kind) }));
  return (
    <>
      <form
        class="ask-form"
        onSubmit={(event) => {
          event.preventDefault();
          tryScreen();
        }}
      >
        <Choice
          id="screen-shape"
          label="Screen"
          value={form.shape}
          set={(shape) => setScreen({ shape: shape as ScreenShape })}
        >
          {Object.entries(SHAPES).map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </Choice>
        {form.shape === 'beside' && (
          <Choice
            id="screen-way"
            label="Way to hide"
            value={form.way ?? waysToHide.value[0]?.id ?? ''}
            set={(way) => setScreen({ way })}
          >
            <NamedOptions of={named(waysToHide.value)} />
          </Choice>
        )}
        {form.shape === 'drawn' ? (
          <Choice
            id="screen-drawn"
            label="Which"
            value={form.screen ?? drawnScreens.value[0]?.id ?? ''}
            set={(screen) => setScreen({ screen })}
          >
            <NamedOptions of={named(drawnScreens.value)} />
          </Choice>
        ) : (
          <Planting />
        )}
        {form.shape === 'crescent' && (
          <>
            <LengthField
              id="screen-radius"
              label="Away from the stand"
              kind="height"
              metres={form.radius}
              least={1}
              most={60}
              set={(radius) => setScreen({ radius })}
            />
            <Choice
              id="screen-opens"
              label="Open to the"
              value={form.opens === null ? '' : String(form.opens)}
              set={(opens) => setScreen({ opens: opens === '' ? null : Number(opens) })}
            >
              <option value="">back, away from travel</option>
              <SectorOptions />
            </Choice>
          </>
        )}
        {form.shape === 'beside' && (
          <LengthField
            id="screen-offset"
            label="Off the middle of the way"
            kind="height"
            metres={form.offset}
            least={1}
            most={60}
            set={(offset) => setScreen({ offset })}
          />
        )}
        <button type="submit" class="quiet" disabled={!standsReady.value || !screenReady.value}>
          What it hides
        </button>
      </form>
      {!screenReady.value && (
        <p class="empty">
          {form.shape === 'drawn'
            ? 'No screen is drawn yet.'
            : form.shape === 'beside'
              ? 'No road, trail or way in is drawn as a line.'
              : 'Choose a stand or a spot first.'}
        </p>
      )}
      <section class="answer" aria-label="Screen" aria-live="polite">
        <Asking of={screens} what="Looking through the screen" />
        {answer && <Told answer={answer} drawn={form.shape === 'drawn'} />}
      </section>
    </>
  );
}

function Planting() {
  const { plant, rows, rowSpacing } = screenForm.value;
  return (
    <>
      <Choice
        id="screen-plant"
        label="Planted with"
        value={plant}
        set={(of) => setScreen({ plant: of as ScreenPlant })}
      >
        {Object.entries(PLANT_WORDS).map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </Choice>
      <NumberField
        id="screen-rows"
        label="Rows"
        value={rows}
        least={1}
        most={30}
        whole
        put={(typed) => setScreen({ rows: typed })}
      />
      <LengthField
        id="screen-spacing"
        label="Between rows"
        kind="height"
        metres={rowSpacing}
        least={0.3}
        most={5}
        set={(metres) => setScreen({ rowSpacing: metres })}
      />
    </>
  );
}

function Told({ answer, drawn }: { answer: ScreenAnswer; drawn: boolean }) {
  const { trial, plant, length, width, side, notes, cautions, lines } = answer;
  const u = units.value;
  const points = lines.features.flatMap(({ geometry }) =>
    geometry.type === 'LineString' ? geometry.coordinates : [],
  );
  return (
    <>
      {trial.sentences.map((line) => (
        <p key={line} class="para">
          {line}
        </p>
      ))}
      <p class="facts">
        {PLANT_WORDS[plant]}, {formatLength(length, u)} long, {formatLength(width, u, 'height')} wide
        {side ? `, ${side} of the way as it is drawn: the side that hides more` : ''}.
      </p>
      <BySeason trial={trial} />
      <div class="steps">
        {!drawn && (
          <button type="button" class="strong" onClick={() => void proposeScreen()}>
            Propose this screen
          </button>
        )}
        <button type="button" class="quiet" onClick={() => flyTo(null, points, 60)}>
          Show on the map
        </button>
      </div>
      <Lines title="How it was looked at" lines={notes} kind="plain" />
      <Lines title="What this cannot know" lines={trial.doubts} kind="doubts" />
      <Lines title="Cautions of planting" lines={cautions} kind="caution" />
    </>
  );
}

const left = (share: number | null): string => (share === null ? '–' : formatShare(share));

function BySeason({ trial: { seasons, hiddenFrom } }: { trial: ScreenAnswer['trial'] }) {
  const names = seasons[0]?.seen.map(({ name }) => name) ?? [];
  const shots = seasons.some((each) => each.shots !== null);
  return (
    <>
      {names.map((name, k) => {
        const from = hiddenFrom[k]?.season ?? null;
        // Groups of deer that look from nowhere have no column.
        const groups = (['travel', 'bedding', 'food'] as const).filter((group) =>
          seasons.some(({ seen }) => seen[k]![group] !== null),
        );
        return (
          <div class="table-scroll" key={name}>
            <table>
              <caption>{name}: looks left in the fall of each season</caption>
              <thead>
                <tr>
                  <th scope="col">Season</th>
                  <th scope="col" class="right">
                    Stands
                  </th>
                  {groups.map((group) => (
                    <th key={group} scope="col" class="right">
                      From {group}
                    </th>
                  ))}
                  {shots && (
                    <th scope="col" class="right">
                      Shots
                    </th>
                  )}
                </tr>
              </thead>
              <tbody>
                {seasons.map(({ season, height, seen, shots: open }) => (
                  <tr key={season}>
                    <th scope="row">
                      {season === 0 ? 'without it' : season}
                      {from !== null && season >= from ? ', hidden' : ''}
                    </th>
                    <td class="right">{season === 0 ? '–' : formatLength(height, units.value, 'height')}</td>
                    {groups.map((group) => (
                      <td key={group} class="right">
                        {left(seen[k]![group])}
                      </td>
                    ))}
                    {shots && <td class="right">{open === null ? 'none' : formatShare(open)}</td>}
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        );
      })}
    </>
  );
}

function Choice(props: {
  id: string;
  label: string;
  value: string;
  set(value: string): void;
  children: preact.ComponentChildren;
}) {
  return (
    <label class="length" for={props.id}>
      <span>{props.label}</span>
      <select id={props.id} value={props.value} onChange={(event) => props.set(event.currentTarget.value)}>
        {props.children}
      </select>
    </label>
  );
}
