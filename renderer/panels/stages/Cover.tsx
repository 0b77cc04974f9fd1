import { formatArea } from '../../../core/features/units.ts';
import { pointsOf } from '../../state/rows.ts';
import { summary, units } from '../../state/session.ts';
import { table } from '../../state/tables.ts';
import { flight } from '../../state/view.ts';
import { Finding, Section } from '../Finding.tsx';
import { PaintCover } from '../PaintCover.tsx';
import { Waiting } from '../waiting.tsx';
import { More } from './Ground.tsx';

const SOURCE: Record<string, string> = {
  imagery:
    'Read from the aerial photo. A photo from above shows the canopy; what hides a deer, and what it walks on, lies below it.',
  'land cover':
    'Read from the land-cover raster, whose cells are coarse: a fence row or a thicket may be lost in them.',
  'vegetation height':
    'Read from the height of what grows, out of the point cloud. It tells timber, brush and open ground apart, not what lies below the crowns.',
  'terrain alone':
    'No photo and no land cover came in, so everything from here on rests on the lie of the land alone.',
};
const SHOWN = 8;

export function Cover() {
  const source = summary.value!.coverSource;
  const blocks = table('blocks').value?.features ?? [];
  return (
    <>
      {source === null ? (
        <Waiting what="Cover classes and blocks" />
      ) : (
        <p class="facts">{SOURCE[source] ?? source}</p>
      )}
      <PaintCover />
      {blocks.length > 0 && (
        <Section title="Blocks of cover" count={blocks.length}>
          <ol class="findings">
            {blocks.slice(0, SHOWN).map((block) => (
              <Finding
                key={block.id}
                id={`block ${block.id}`}
                flag={String(block.id)}
                flagClass="leaf"
                title={`Block ${block.id}`}
                onPick={() => {
                  const points = pointsOf(block.geometry);
                  const xs = points.map((p) => p[0]!);
                  const ys = points.map((p) => p[1]!);
                  flight.value = {
                    extent: [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)],
                    span: 300,
                  };
                }}
              >
                {formatArea(Number(block.properties?.area ?? 0), units.value)} of joined cover.
              </Finding>
            ))}
          </ol>
          <More shown={SHOWN} of={blocks.length} />
        </Section>
      )}
    </>
  );
}
