import { useEffect, useRef } from 'preact/hooks';
import { drawAir } from '../../map/air-arrows.ts';
import { arrowsOn } from '../../state/air-clock.ts';

const SIGNS: { says: string; speed: number; towards: number | null; held: number }[] = [
  { says: 'cold air keeps its own flow', speed: 2, towards: 115, held: 1 },
  { says: 'wind near the ground', speed: 2, towards: 115, held: 0 },
  { says: 'way not known: still or eddying', speed: 0, towards: null, held: 0 },
];

/** What the signs of moving air mean, and whether they show. */
export function AirKey() {
  return (
    <div class="air-key">
      <label class="layer">
        <input
          type="checkbox"
          checked={arrowsOn.value}
          onChange={(event) => {
            arrowsOn.value = event.currentTarget.checked;
          }}
        />
        <span>Air near the ground; longer is faster</span>
      </label>
      <ul class="legend">
        {SIGNS.map((sign) => (
          <li key={sign.says}>
            <Sign {...sign} />
            {sign.says}
          </li>
        ))}
      </ul>
    </div>
  );
}

function Sign({ speed, towards, held }: (typeof SIGNS)[number]) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const pen = canvas.current!.getContext('2d')!;
    pen.setTransform(2, 0, 0, 2, 30, 22);
    drawAir(pen, speed, towards, held);
  }, []);
  return <canvas ref={canvas} class="air-sign" width="60" height="44" />;
}
