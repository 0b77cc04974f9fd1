import { useEffect, useRef } from 'preact/hooks';
import { formatLength, type Units } from '../../../core/features/units.ts';
import type { PinnedPicture } from '../../../electron/service/contract.ts';
import {
  dropPicture,
  dropPin,
  fitOf,
  flyToPicture,
  moveOnMap,
  moveOnPicture,
  moving,
  openPins,
  waiting,
} from '../../state/pictures.ts';
import { units } from '../../state/session.ts';
import { Lines } from '../Finding.tsx';
import { Glyph } from '../Glyph.tsx';
import { PictureView } from './PictureView.tsx';

/** The page on which a picture is pinned: the picture, its pins with what each is missed by, and what they tell. */
export function PinPage({ picture }: { picture: PinnedPicture }) {
  const { id, name, pins, width, height } = picture;
  const answer = fitOf(id);
  const fit = answer?.fit ?? null;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [id]);
  return (
    <>
      <button type="button" class="quiet back" onClick={() => openPins(null)}>
        <Glyph name="back" size={18} /> Done pinning
      </button>
      <h2 class="pin-head" ref={heading} tabIndex={-1}>
        Pins of {name}
      </h2>
      <p class="facts" role="status">
        {moving.value !== null
          ? `Click where pin ${moving.value + 1} belongs on the picture.`
          : waiting.value
            ? 'Now click the same spot on the map, or type its position there.'
            : 'Click a spot on the picture that you can find on the map: a corner, a bend, the end of a wall.'}
      </p>
      <PictureView picture={picture} />
      <section class="answer" aria-label="Pins" aria-live="polite">
        {pins.length > 0 && <PinTable picture={picture} misses={fit?.misses ?? null} />}
        {fit && (
          <p class="facts">
            {width} × {height} pixels of {pixelWords(fit.pixel, units.value)} each,{' '}
            {Math.abs(fit.turned) < 0.05
              ? 'not turned'
              : `turned ${Math.abs(fit.turned).toFixed(1)}° ${fit.turned > 0 ? 'clockwise' : 'counterclockwise'} from grid north`}
            .
          </p>
        )}
      </section>
      <Lines title="What the pins tell" lines={answer?.sentences ?? []} kind="doubts" />
      <div class="steps">
        {fit && (
          <button type="button" class="quiet" onClick={() => flyToPicture(picture)}>
            Show it on the map
          </button>
        )}
        <button type="button" class="quiet danger" onClick={() => void dropPicture(id)}>
          Take the picture off
        </button>
      </div>
    </>
  );
}

/** A small length: inches or centimetres. */
const pixelWords = (metres: number, of: Units): string =>
  of === 'us' ? `${(metres / 0.0254).toFixed(1)} in` : `${(metres * 100).toFixed(1)} cm`;

function PinTable({ picture, misses }: { picture: PinnedPicture; misses: readonly number[] | null }) {
  return (
    <div class="table-scroll">
      <table>
        <caption>Pins, and how far the picture misses each on the map</caption>
        <thead>
          <tr>
            <th scope="col">Pin</th>
            <th scope="col" class="right">
              Missed by
            </th>
            <th scope="col">Move it on the</th>
          </tr>
        </thead>
        <tbody>
          {picture.pins.map((pin, k) => (
            <tr key={`${pin.at} ${pin.to}`}>
              <th scope="row">{k + 1}</th>
              <td class="right">{misses ? formatLength(misses[k]!, units.value, 'height') : 'not known'}</td>
              <td class="pin-steps">
                <button type="button" class="quiet small" onClick={() => moveOnPicture(k)}>
                  picture<span class="unseen">: move pin {k + 1} there</span>
                </button>
                <button type="button" class="quiet small" onClick={() => moveOnMap(k)}>
                  map<span class="unseen">: move pin {k + 1} there</span>
                </button>
                <button type="button" class="quiet small danger" onClick={() => void dropPin(k)}>
                  Remove<span class="unseen"> pin {k + 1}</span>
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
