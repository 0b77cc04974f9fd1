import { signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { roundStep } from '../map/tile-grid.ts';
import { isBlind } from '../state/blind-trial.ts';
import { pointer, readings } from '../state/pointer.ts';
import { camera, reliefOpen } from '../state/relief.ts';
import { summary, units } from '../state/session.ts';
import { STAGE_READINGS } from '../state/stages.ts';
import { coordinateStyle, stage } from '../state/view.ts';
import {
  COORDINATE_STYLES,
  type CoordinateStyle,
  geographer,
  gridCoordinates,
  placeText,
  utmZone,
} from '../words/coordinates.ts';
import { northWords } from '../words/sentences.ts';

/** Metres a CSS pixel of the map as it stands. */
export const scale = signal(1);

/** Scale bar, north, and where the pointer is: the margin of a printed map. */
export function Instruments() {
  const { frame } = summary.value!;
  const geo = useMemo(() => geographer(frame), [frame.proj4]);
  const at = pointer.value;
  const style = coordinateStyle.value;
  const starts = STAGE_READINGS[stage.value];
  const ofStage = readings.value.filter(
    ({ label }) =>
      starts.some((start) => label.startsWith(start)) && !(isBlind.value && label.startsWith('Passage')),
  );
  return (
    <div class="instruments">
      <North convergence={frame.convergence} turn={reliefOpen.value ? (camera.value?.bearing ?? 0) : 0} />
      <ScaleBar />
      <label class="style-pick">
        <span class="unseen">Write places as</span>
        <select
          value={style}
          onChange={(event) => {
            coordinateStyle.value = event.currentTarget.value as CoordinateStyle;
          }}
        >
          {Object.entries(COORDINATE_STYLES).map(([key, title]) => (
            <option key={key} value={key}>
              {title}
            </option>
          ))}
        </select>
      </label>
      <dl class="where" aria-label="Under the pointer">
        {at ? (
          <>
            <div>
              <dt class="unseen">{COORDINATE_STYLES[style]}</dt>
              <dd>
                {style === 'utm' && utmZone(frame.epsg)
                  ? gridCoordinates(frame.epsg, at[0], at[1])
                  : placeText(style, geo.toGeographic(at[0], at[1]))}
              </dd>
            </div>
            {ofStage.map((row) => (
              <div key={row.label} class="reading">
                <dt>{row.label}</dt>
                <dd>{row.value}</dd>
              </div>
            ))}
          </>
        ) : (
          <div>
            <dt class="unseen">Hint</dt>
            <dd class="hint">Rest the pointer on the map to read the ground there.</dd>
          </div>
        )}
      </dl>
    </div>
  );
}

/** `turn` is how far the view looks clockwise of grid north, degrees. */
function North({ convergence, turn }: { convergence: number; turn: number }) {
  // True north stands counter-clockwise of grid north by the convergence.
  return (
    <svg
      class="north"
      width="34"
      height="46"
      viewBox="-17 -40 34 46"
      role="img"
      aria-label={`Grid north is ${turn === 0 ? 'up' : `${Math.round(360 - turn)}° clockwise of up`}. ${northWords(convergence)}`}
    >
      <title>{northWords(convergence)}</title>
      <g transform={`rotate(${-turn} 0 -12)`}>
        <path d="M0 4V-26M-5-18 0-28 5-18" class="north-grid" />
        <text x="0" y="-31" text-anchor="middle">
          GN
        </text>
        <g transform={`rotate(${-convergence} 0 4)`}>
          <path d="M0 4V-24" class="north-true" />
          <circle cx="0" cy="-24" r="1.800" class="north-star" />
        </g>
      </g>
    </svg>
  );
}

function ScaleBar() {
  const us = units.value === 'us';
  const metres = us ? 0.9144 : 1;
  const length = roundStep(scale.value / metres, 70);
  const width = (length * metres) / scale.value;
  const long = us ? length >= 1760 : length >= 1000;
  const text = long
    ? us
      ? `${(length / 1760).toFixed(1)} mi`
      : `${length / 1000} km`
    : `${length} ${us ? 'yd' : 'm'}`;
  return (
    <svg class="scale" width={width + 34} height="30" role="img" aria-label={`Scale bar: ${text}`}>
      <g transform="translate(6 16)">
        <rect x="0" y="0" width={width / 2} height="5" class="scale-dark" />
        <rect x={width / 2} y="0" width={width / 2} height="5" class="scale-light" />
        <text x="0" y="-4" text-anchor="middle">
          0
        </text>
        <text x={width} y="-4" text-anchor="middle">
          {text}
        </text>
      </g>
    </svg>
  );
}
