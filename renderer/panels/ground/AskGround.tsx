import { formatArea } from '../../../core/features/units.ts';
import {
  askSight,
  askView,
  catchment,
  day,
  GROUND_TOOLS,
  type GroundTool,
  groundTool,
  hour,
  radius,
  seen,
  shadow,
  sightline,
  sun,
  takeUp,
  through,
} from '../../state/ground-asks.ts';
import { units } from '../../state/session.ts';
import { Asking } from '../Asking.tsx';
import { DayField } from '../DayField.tsx';
import { OverlayLegend } from '../LegendRows.tsx';
import { LengthField } from '../LengthField.tsx';
import { Heights, PutAway } from './parts.tsx';
import { SightProfile } from './SightProfile.tsx';
import { WayView } from './WayView.tsx';

/** Questions a person puts to the ground, one tool at a time; answers stay on the map until put away. */
export function AskGround() {
  const tool = groundTool.value;
  return (
    <>
      <fieldset class="draw-grid">
        <legend class="unseen">Ask the ground</legend>
        {(Object.keys(GROUND_TOOLS) as GroundTool[]).map((name) => (
          <button
            key={name}
            type="button"
            class="draw-kind"
            aria-pressed={tool === name}
            onClick={() => takeUp(name)}
          >
            {GROUND_TOOLS[name]}
          </button>
        ))}
      </fieldset>
      {tool === null && (
        <p class="empty">Choose a question, then a place on the map: by click, or by Space at its cross.</p>
      )}
      {tool === 'drains' && <Drains />}
      {tool === 'seen' && <Seen />}
      {tool === 'sight' && <Sight />}
      {tool === 'way' && <WayView />}
      {tool === 'sun' && <Sun />}
    </>
  );
}

function Drains() {
  const answer = catchment.answer.value;
  return (
    <section class="answer" aria-label="What drains here" aria-live="polite">
      <Asking of={catchment} what="Following the water up" />
      {answer && (
        <>
          <p class="para">{answer.sentence}</p>
          <PutAway of={[catchment]} />
        </>
      )}
    </section>
  );
}

function Seen() {
  const answer = seen.answer.value;
  const at = seen.asked.value;
  return (
    <>
      <div class="ask-form">
        <Heights />
        <LengthField
          id="view-radius"
          label="Out to"
          kind="distance"
          metres={radius.value}
          least={1}
          most={20_000}
          set={(metres) => {
            radius.value = metres;
          }}
        />
        <label class="length" for="view-through">
          <span>Looks over</span>
          <select
            id="view-through"
            value={through.value}
            onChange={(event) => {
              through.value = event.currentTarget.value === 'vegetation' ? 'vegetation' : 'bare';
            }}
          >
            <option value="bare">bare ground</option>
            <option value="vegetation">ground with its cover</option>
          </select>
        </label>
      </div>
      {at && (
        <button type="button" class="quiet" onClick={() => askView([at.x, at.y])}>
          Ask again from there
        </button>
      )}
      <section class="answer" aria-label="What is seen from here" aria-live="polite">
        <Asking of={seen} what="Looking round" />
        {answer && (
          <>
            <p class="para">{answer.sentence}</p>
            <OverlayLegend of={answer.overlay} />
            <dl class="measures">
              <div>
                <dt>In clear view</dt>
                <dd>{formatArea(answer.clear, units.value)}</dd>
              </div>
              <div>
                <dt>At least a glimpse</dt>
                <dd>{formatArea(answer.glimpsed, units.value)}</dd>
              </div>
            </dl>
            <p class="facts">{answer.note}</p>
            <p class="caution-line">Seen is not safe: what stands behind it is not judged here.</p>
            <PutAway of={[seen]} />
          </>
        )}
      </section>
    </>
  );
}

function Sight() {
  const answer = sightline.answer.value;
  const asked = sightline.asked.value;
  return (
    <>
      <div class="ask-form">
        <Heights />
      </div>
      {asked && (
        <button type="button" class="quiet" onClick={() => askSight(asked.from, asked.to)}>
          Ask again along there
        </button>
      )}
      <section class="answer" aria-label="Line of sight" aria-live="polite">
        <Asking of={sightline} what="Looking along the line" />
        {answer && asked && (
          <>
            <p class="para">{answer.sentence}</p>
            <SightProfile answer={answer} observer={asked.observerHeight} target={asked.targetHeight} />
            <p class="facts">{answer.note} Heights are drawn larger than lengths, and the line straight.</p>
            <p class="caution-line">A clear line is not a safe shot: nothing here judges what lies behind.</p>
            <PutAway of={[sightline]} />
          </>
        )}
      </section>
    </>
  );
}

const clock = (at: number) =>
  `${String(Math.floor(at)).padStart(2, '0')}:${String(Math.round((at % 1) * 60)).padStart(2, '0')}`;

function Sun() {
  const times = sun.answer.value;
  const shade = shadow.answer.value;
  const ask = (event: Event) => {
    event.preventDefault();
    void sun.put({ date: day.value });
    void shadow.put({ date: day.value, hour: hour.value });
  };
  return (
    <>
      <form class="ask-form" onSubmit={ask}>
        <DayField id="sun-day" day={day} />
        <label class="length" for="sun-hour">
          <span>Standard time</span>
          <input
            id="sun-hour"
            type="time"
            required
            value={clock(hour.value)}
            onChange={(event) => {
              const [h, m] = event.currentTarget.value.split(':').map(Number);
              if (h !== undefined && m !== undefined && Number.isFinite(h + m)) hour.value = h + m / 60;
            }}
          />
        </label>
        <button type="submit" class="quiet">
          Show sun and shade
        </button>
      </form>
      <section class="answer" aria-label="Sun and shade" aria-live="polite">
        <Asking of={shadow} what="Casting the shade" />
        {times && (
          <dl class="measures">
            {times.times.map(({ event, label, standard }) => (
              <div key={event}>
                <dt>{label}</dt>
                <dd>{standard === null ? 'not on this day' : `${standard} ${times.zone}`}</dd>
              </div>
            ))}
          </dl>
        )}
        {shade && (
          <>
            <p class="para">{shade.sentence}</p>
            <OverlayLegend of={shade.overlay} />
          </>
        )}
        {times && <p class="facts">{times.note}</p>}
        {(times || shade) && <PutAway of={[sun, shadow]} />}
      </section>
    </>
  );
}
