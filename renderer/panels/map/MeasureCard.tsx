import { formatArea, formatLength } from '../../../core/features/units.ts';
import type { Point } from '../../../core/grid/frame.ts';
import { pen } from '../../state/editing.ts';
import {
  askProfile,
  type MeasureTool,
  measured,
  measureTool,
  profile,
  putMeasureAway,
  takeUpMeasure,
} from '../../state/measuring.ts';
import { summary, units } from '../../state/session.ts';
import { areaOf, lengthOf } from '../../words/features.ts';
import { bearingWords, legsOf, trueBearing } from '../../words/measures.ts';
import { Asking } from '../Asking.tsx';
import { SketchTools, SketchWords } from '../DrawBar.tsx';
import { Glyph } from '../Glyph.tsx';
import { Heights } from '../ground/parts.tsx';
import { LineProfile } from './LineProfile.tsx';

const TOOLS: Record<MeasureTool, string> = { line: 'Line', area: 'Area' };

/** Measuring on the map: the line or ring being drawn, then what it measures and the ground under it. */
export function MeasureCard() {
  const tool = measureTool.value;
  if (!tool) return null;
  const points = measured.value;
  return (
    <section class="card draw-bar measure" aria-label="Measure">
      <header class="measure-head">
        <fieldset class="pill-row">
          <legend class="unseen">What to measure</legend>
          {(Object.keys(TOOLS) as MeasureTool[]).map((name) => (
            <button
              key={name}
              type="button"
              class="quiet small"
              aria-pressed={tool === name}
              onClick={() => takeUpMeasure(name)}
            >
              {TOOLS[name]}
            </button>
          ))}
        </fieldset>
        <button type="button" class="icon fold" onClick={putMeasureAway}>
          <Glyph name="close" size={16} />
          <span class="unseen">Put the measure away</span>
        </button>
      </header>
      {pen.value && !points && (
        <>
          <p class="draw-words">
            <SketchWords shape={tool === 'area' ? 'Polygon' : 'LineString'} />
          </p>
          <SketchTools shape={tool === 'area' ? 'Polygon' : 'LineString'} stop="Stop measuring" />
        </>
      )}
      {points && (tool === 'area' ? <Area ring={points} /> : <Line line={points} />)}
    </section>
  );
}

function Area({ ring }: { ring: readonly Point[] }) {
  const u = units.value;
  const rest = ring.map(([x, y]) => [x, y]);
  return (
    <div role="status">
      <p class="measure-main">{formatArea(areaOf([rest]), u)}</p>
      <p>{formatLength(lengthOf(rest), u)} round.</p>
      <Again tool="area" />
    </div>
  );
}

const Again = ({ tool }: { tool: MeasureTool }) => (
  <button type="button" class="quiet small" onClick={() => takeUpMeasure(tool)}>
    Measure another
  </button>
);

function Line({ line }: { line: readonly Point[] }) {
  const u = units.value;
  const { convergence } = summary.value!.frame;
  const legs = legsOf(line, convergence);
  const length = legs.reduce((sum, leg) => sum + leg.length, 0);
  const whole = trueBearing(line[0]!, line.at(-1)!, convergence);
  const answer = profile.answer.value;
  return (
    <div class="card-scroll measure-body">
      <p class="measure-main" role="status">
        {formatLength(length, u)}
        <span class="measure-bearing"> {bearingWords(whole)} from start to end</span>
      </p>
      {legs.length > 1 && (
        <details>
          <summary>{legs.length} legs</summary>
          <ol class="legs">
            {legs.map((leg, n) => (
              // The legs of a measured line never change their order.
              <li key={`${n} ${leg.length}`}>
                {formatLength(leg.length, u)}, {bearingWords(leg.bearing)}
              </li>
            ))}
          </ol>
        </details>
      )}
      <Asking of={profile} what="Reading the ground under the line" />
      {answer && (
        <>
          <LineProfile answer={answer} straight={legs.length === 1} />
          <p class="measure-words">{answer.sentences.join(' ')}</p>
          <p class="measure-words">{answer.sight.sentence} A clear line is not a safe shot.</p>
          <details>
            <summary>Heights for the line of sight, and what this rests on</summary>
            <div class="ask-form">
              <Heights prefix="measure-" />
              <button type="button" class="quiet small" onClick={askProfile}>
                Look again
              </button>
            </div>
            <p class="hint">{answer.note}</p>
          </details>
        </>
      )}
      <Again tool="line" />
    </div>
  );
}
