import { compassWord } from '../../../core/features/units.ts';
import type { Camera } from '../../map/relief/camera.ts';
import { camera, look, reliefOpen, showProperty, TALLER, turnBy } from '../../state/relief.ts';
import { Glyph } from '../Glyph.tsx';

/** `Looking northeast, 35° down; heights drawn 2 times.` */
export const lookWords = ({ bearing, tilt, taller }: Camera): string =>
  `Looking ${tilt > 85 ? 'straight down' : `${compassWord(bearing)}, ${Math.round(tilt)}° down`}; heights ${taller === 1 ? 'true to scale' : `drawn ${taller} times`}.`;

/** Every turn of the block as a button, and how it stands in words. */
export function ReliefTools() {
  const now = camera.value;
  const button = (label: string, sign: string, act: () => void) => (
    <button type="button" class="quiet icon" onClick={act}>
      <span aria-hidden="true">{sign}</span>
      <span class="unseen">{label}</span>
    </button>
  );
  return (
    <section class="card relief-tools" aria-label="Block view">
      <p role="status">{now ? lookWords(now) : 'The ground is on its way.'}</p>
      <div class="draw-buttons">
        {button('Turn left', '↺', () => turnBy(-15, 0))}
        {button('Turn right', '↻', () => turnBy(15, 0))}
        {button('Look further down', '↧', () => turnBy(0, 10))}
        {button('Look flatter', '↥', () => turnBy(0, -10))}
        {button('Larger', '+', () => now && look({ scale: now.scale * 1.25 }))}
        {button('Smaller', '−', () => now && look({ scale: now.scale / 1.25 }))}
        <button type="button" class="quiet icon" onClick={showProperty}>
          <Glyph name="home" />
          <span class="unseen">Show the property</span>
        </button>
        <label class="pick">
          <span class="unseen">Heights drawn</span>
          <select
            value={String(now?.taller ?? 2)}
            onChange={(event) => look({ taller: Number(event.currentTarget.value) })}
          >
            {TALLER.map((times) => (
              <option key={times} value={String(times)}>
                {times === 1 ? 'heights true' : `heights × ${times}`}
              </option>
            ))}
          </select>
        </label>
        <button
          type="button"
          class="strong"
          onClick={() => {
            reliefOpen.value = false;
          }}
        >
          Back to the map
        </button>
      </div>
      <p class="hint">Drag turns and tilts; with Shift it moves. Lengths across the view keep one scale.</p>
    </section>
  );
}
