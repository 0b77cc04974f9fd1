import { computed } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ACRE, formatArea } from '../../../core/features/units.ts';
import { changeSettings } from '../../state/editing.ts';
import { inquiry } from '../../state/inquiry.ts';
import { pointsOf, rowsOf } from '../../state/rows.ts';
import { run, summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { choose, flyTo } from '../../state/view.ts';
import { bedDepth, channelSentence } from '../../words/channels.ts';
import { Finding, Section } from '../Finding.tsx';
import { Waiting } from '../waiting.tsx';

const SHOWN = 8;
/** Ends of the slider, m²: below a tenth of an acre noise makes lines, above a section none are left. */
const LEAST = 400;
const MOST = 2_600_000;
const STEPS = 200;

const drainage = inquiry('ground.drainage');
const hectare = 10_000;
const unitArea = computed(() => (units.value === 'metric' ? hectare : ACRE));

/** Where drainage lines start and why, and how deep the channels are. */
export function Water() {
  const key = summary.value!.tables.find((t) => t.name === 'drainage')?.key;
  useEffect(() => {
    if (key !== undefined) void drainage.put({});
  }, [key]);
  if (key === undefined) return <Waiting what="Drainage lines" />;
  return (
    <>
      <Start />
      <Channels />
    </>
  );
}

function Start() {
  const answer = drainage.answer.value;
  if (!answer) return null;
  const { area, how, sentence, lines } = answer;
  const set = (squareMetres: number | null) =>
    void changeSettings({ ground: { drainageThreshold: squareMetres } }, true);
  const place = Math.round((STEPS * Math.log(area / LEAST)) / Math.log(MOST / LEAST));
  const areaAt = (at: number) => LEAST * (MOST / LEAST) ** (at / STEPS);
  const unit = units.value === 'metric' ? 'ha' : 'acres';
  return (
    <Section title="Where a drainage line starts">
      <p class="para">{sentence}</p>
      <p class="facts">{lines === 1 ? 'That makes one line.' : `That makes ${lines} lines.`}</p>
      <input
        class="opacity"
        type="range"
        min="0"
        max={STEPS}
        key={`slider ${area}`}
        value={place}
        aria-label="Ground that starts a drainage line"
        aria-valuetext={formatArea(area, units.value)}
        onInput={(event) =>
          event.currentTarget.setAttribute(
            'aria-valuetext',
            formatArea(areaAt(event.currentTarget.valueAsNumber), units.value),
          )
        }
        onChange={(event) => set(areaAt(event.currentTarget.valueAsNumber))}
      />
      <p class="slider-ends" aria-hidden="true">
        <span>more lines</span>
        <span>fewer lines</span>
      </p>
      <div class="ask-form">
        <label class="length" for="drainage-start">
          <span>Starts at, {unit}</span>
          <input
            id="drainage-start"
            type="number"
            step="any"
            min={0.01}
            key={`number ${area}`}
            value={Number((area / unitArea.value).toPrecision(3))}
            onChange={(event) => {
              const typed = event.currentTarget.valueAsNumber;
              if (typed > 0) set(typed * unitArea.value);
            }}
          />
        </label>
        <button
          type="button"
          class="quiet"
          disabled={how !== 'set by the user' || run.value !== null}
          onClick={() => set(null)}
        >
          Let the ground choose
        </button>
      </div>
    </Section>
  );
}

function Channels() {
  const stations = rowsOf('channels', table('channels').value);
  if (stations.length === 0) return null;
  const measured = stations
    .filter((row) => bedDepth(row) !== null)
    .toSorted((a, b) => bedDepth(b)! - bedDepth(a)!);
  const coarse = stations.filter((row) => row.source === 'cells too coarse').length;
  const bankless = stations.filter((row) => row.source === 'no banks').length;
  const u = units.value;
  return (
    <Section title="Depth of channels" count={measured.length}>
      {measured.length === 0 && <p class="empty">No bed stands out below banks at this cell size.</p>}
      <ol class="findings">
        {measured.slice(0, SHOWN).map((row, i) => (
          <Finding
            key={row.id}
            id={row.id}
            flag={i + 1}
            flagClass="cold"
            title={`Channel ${i + 1}`}
            onPick={() => {
              choose('channels', { on: true });
              flyTo({ type: 'channel', id: row.id }, pointsOf(row.shape));
            }}
          >
            {channelSentence(row, u)}
          </Finding>
        ))}
      </ol>
      {measured.length > SHOWN && <p class="more">{measured.length - SHOWN} more on the map.</p>}
      {coarse > 0 && (
        <p class="facts">
          {coarse} of {stations.length} places along the lines: not measurable at this cell size. A depth and
          width taped in the field and written on the creek stands in.
        </p>
      )}
      {bankless > 0 && (
        <p class="facts">
          {bankless} of {stations.length} places have no banks to measure from.
        </p>
      )}
    </Section>
  );
}
