import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../core/grid/random.ts';
import type { GridNet } from '../../../core/travel/aggregation.ts';
import { createSolver } from '../../../core/travel/multigrid.ts';
import { outside } from '../../outside.ts';

const emptyNet = (width: number, height: number): GridNet => ({
  width,
  height,
  east: new Float64Array(width * height),
  south: new Float64Array(width * height),
  ground: null,
});

function latticeNet(size: number): GridNet {
  const net = emptyNet(size, size);
  for (let y = 0, i = 0; y < size; y++)
    for (let x = 0; x < size; x++, i++) {
      net.east[i] = x + 1 < size ? 1 : 0;
      net.south[i] = y + 1 < size ? 1 : 0;
    }
  return net;
}

/** Ohms between two nodes: the potential difference that drives one unit. */
function ohms(net: GridNet, from: number, to: number): number {
  const injected = new Float64Array(net.width * net.height);
  injected[from] = 1;
  injected[to] = -1;
  const potential = new Float64Array(injected.length);
  createSolver(net).solve(injected, potential, { tolerance: 1e-12 });
  return potential[from]! - potential[to]!;
}

function closedForm(method: string, found: number, wanted: number): void {
  const check = outside({ room: 'travel', method, source: 'Ohm and Kirchhoff', unit: 'ohm', allowed: 1e-9 });
  check.compare(found, wanted);
  check.done();
}

describe('closed-form resistor networks (Ohm and Kirchhoff)', () => {
  it('adds resistors in series', () => {
    const net = emptyNet(5, 1);
    net.east.set([1 / 2, 1 / 3, 1 / 5, 1 / 7]);
    closedForm('Resistors in series', ohms(net, 0, 4), 17);
  });

  it('adds conductors in parallel', () => {
    // A square: 2 ohms one way round, 4 + 6 + 8 the other.
    const net = emptyNet(2, 2);
    net.east.set([1 / 2, 0, 1 / 6, 0]);
    net.south.set([1 / 4, 1 / 8, 0, 0]);
    closedForm('Resistors side by side', ohms(net, 0, 1), 1 / (1 / 2 + 1 / 18));
  });

  it('adds resistors in series along a lane one cell wide that winds through the whole grid', () => {
    const [width, height] = [61, 40];
    const net = emptyNet(width, height);
    for (let y = 0; y < height; y++) {
      net.east.fill(1, y * width, (y + 1) * width - 1);
      // Open at one end of every second wall, as lanes wind.
      if (y + 1 < height) net.south[y * width + (y % 2 === 0 ? width - 1 : 0)] = 1;
    }
    const last = (height - 1) * width + (height % 2 === 0 ? 0 : width - 1);
    expect(ohms(net, 0, last)).toBeCloseTo(width * height - 1, 6);
  });

  it('solves an unbalanced bridge', () => {
    // The ring of a 3 x 3 grid runs from corner a (node 0) by p (node 1) and by q (node 7) to corner d (node 8);
    // the column in the middle bridges p and q.
    const net = emptyNet(3, 3);
    net.east.set([1 / 0.5, 1 / 0.5, 0, 0, 0, 0, 1 / 1.5, 1 / 1.5, 0]);
    net.south.set([1, 1 / 2.5, 1 / 2, 1, 1 / 2.5, 1 / 2, 0, 0, 0]);
    const expected = bridge(0.5, 4.5, 3.5, 1.5, 5);
    closedForm('An unbalanced bridge', ohms(net, 0, 8), expected);
  });
});

/** Resistance of a bridge a-p, p-d, a-q, q-d with p-q across, by Kirchhoff's node equations. */
function bridge(ap: number, pd: number, aq: number, qd: number, pq: number): number {
  // a at 1 volt, d at 0: two equations for p and q.
  const p11 = 1 / ap + 1 / pd + 1 / pq;
  const q22 = 1 / aq + 1 / qd + 1 / pq;
  const det = p11 * q22 - 1 / pq ** 2;
  const p = (q22 / ap + 1 / (pq * aq)) / det;
  const q = (p11 / aq + 1 / (pq * ap)) / det;
  return 1 / ((1 - p) / ap + (1 - q) / aq);
}

describe('the 4-neighbour unit lattice (Atkinson & van Steenwijk 1999)', () => {
  // On the endless lattice: 1/2 ohm between neighbours, 2/pi across a diagonal; a finite one nears it as 1/N².
  it.each([
    ['neighbours', 1, 0, 1 / 2],
    ['a diagonal', 1, 1, 2 / Math.PI],
  ])('nears the value for %s with an error falling as 1/N²', (_name, dx, dy, endless) => {
    const errors = [21, 41, 81, 161].map((size) => {
      const middle = ((size - 1) / 2) * size + (size - 1) / 2;
      return Math.abs(ohms(latticeNet(size), middle, middle + dx + dy * size) - endless);
    });
    const source = 'Atkinson & van Steenwijk 1999';
    const falling = outside({
      room: 'travel',
      method: 'Unit lattice of 21², 41², 81² and 161²: error over a quarter of the one before',
      source,
      unit: 'of the error',
      allowed: 0.15,
    });
    for (let k = 1; k < errors.length; k++) falling.compare(errors[k - 1]! / errors[k]! / 4, 1);
    falling.done();
    const check = outside({
      room: 'travel',
      method: 'Unit lattice of 161²: between neighbours 1/2, across a diagonal 2 over pi',
      source,
      unit: 'ohm',
      allowed: 2e-4,
    });
    check.compare(errors.at(-1)!, 0);
    check.done();
  });
});

describe('the solver', () => {
  it('settles in few steps whatever the fences, within 150 bytes a cell', () => {
    const size = 300;
    const net = latticeNet(size);
    for (let k = 0; k < size - 20; k++) {
      net.south[60 * size + k] = 1e-6;
      net.south[140 * size + size - 1 - k] = 0;
      net.east[k * size + Math.floor(k / 2)] = 1e-3;
    }
    const solver = createSolver(net);
    const injected = new Float64Array(size * size);
    injected[10 * size + 10] = 1;
    injected[290 * size + 280] = -1;
    const { steps, residual } = solver.solve(injected, new Float64Array(size * size), { tolerance: 1e-8 });
    expect(residual).toBeLessThanOrEqual(1e-8);
    expect(steps).toBeLessThan(40);
    // Besides the solver: two conductances, and the caller's two vectors.
    expect(solver.bytes / size ** 2 + 16 + 16).toBeLessThan(150);
  });

  it('settles in few steps on ground full of holes, with scraps cut off from the rest', () => {
    const [width, height] = [150, 131];
    const random = seededRandom(7);
    const gone = Uint8Array.from({ length: width * height }, () => (random() < 0.3 ? 1 : 0));
    const net = emptyNet(width, height);
    for (let y = 0, i = 0; y < height; y++)
      for (let x = 0; x < width; x++, i++) {
        if (x + 1 < width && !gone[i] && !gone[i + 1]) net.east[i] = 0.2 + random();
        if (y + 1 < height && !gone[i] && !gone[i + width]) net.south[i] = 0.2 + random();
      }
    for (const leak of [0, 1e-3]) {
      const ground = leak > 0 ? new Float64Array(width * height).fill(leak) : null;
      const injected = new Float64Array(width * height);
      const cells = [...gone.keys()].filter((i) => net.east[i]! > 0 && net.south[i]! > 0);
      injected[cells[400]!] = 1;
      if (leak === 0) injected[cells.at(-400)!] = -1;
      const potential = new Float64Array(width * height);
      const { steps } = createSolver({ ...net, ground }).solve(injected, potential, { tolerance: 1e-10 });
      expect(steps).toBeLessThan(40);
      // Kirchhoff: what comes in goes out, at every node.
      let worst = 0;
      for (let i = 0; i < injected.length; i++) {
        let out = leak * potential[i]! - injected[i]!;
        if (net.east[i]! > 0) out += net.east[i]! * (potential[i]! - potential[i + 1]!);
        if (net.south[i]! > 0) out += net.south[i]! * (potential[i]! - potential[i + width]!);
        if (i > 0 && net.east[i - 1]! > 0) out += net.east[i - 1]! * (potential[i]! - potential[i - 1]!);
        if (i >= width && net.south[i - width]! > 0)
          out += net.south[i - width]! * (potential[i]! - potential[i - width]!);
        worst = Math.max(worst, Math.abs(out));
      }
      expect(worst).toBeLessThan(1e-9);
    }
  });

  it('starts from a former answer and ends at the same', () => {
    const net = latticeNet(64);
    const injected = new Float64Array(64 * 64);
    injected[5] = 1;
    injected[4000] = -1;
    const cold = new Float64Array(64 * 64);
    const far = createSolver(net).solve(injected, cold, { tolerance: 1e-10 });
    const warm = cold.map((v, i) => v + 1e-4 * Math.sin(i));
    const near = createSolver(net).solve(injected, warm, { tolerance: 1e-10 });
    expect(near.steps).toBeLessThan(far.steps);
    for (let i = 0; i < warm.length; i++)
      expect(Math.abs(warm[i]! - warm[0]! - cold[i]! + cold[0]!)).toBeLessThan(1e-6);
  });

  it('leaves unconnected pieces alone', () => {
    const net = emptyNet(4, 1);
    net.east.set([1, 0, 1, 0]);
    const potential = Float64Array.from([0, 0, 7, 7]);
    createSolver(net).solve(Float64Array.from([1, -1, 0, 0]), potential, { tolerance: 1e-12 });
    expect(potential[0]! - potential[1]!).toBeCloseTo(1, 9);
    expect(potential[2]! - potential[3]!).toBeCloseTo(0, 9);
  });
});
