import { type Code, f32x4, get, i32, i32x4, moduleOf, repeatWhile, set, VALUE, v128 } from '../grid/wasm.ts';

/** Where numbers of all nodes stand in the memory: the address of the first node's, bytes. */
export interface SolveLayout {
  /** One array for each way a neighbour may lie, the node itself first; and how far on that neighbour is, bytes. */
  strengths: readonly number[];
  offsets: readonly number[];
  /** Of the last tridiagonal solution: coupling to the node below over its pivot, and one over the own pivot. */
  factor: number;
  perPivot: number;
  potential: number;
  residual: number;
  eased: number;
  way: number;
  product: number;
  /** Four partial sums. */
  sums: number;
  /** Nodes up to a whole vector, and the nodes of a level, bytes. */
  nodes: number;
  layer: number;
}

const scalar = 0;
const at = 1;
const sum = 2;
const sums = 3;
const times = 4;

const load = (array: number): Code => v128.load(get(at), array);
const store = (array: number, value: Code): Code => v128.store(get(at), value, array);
const product = (a: Code, b: Code): Code => f32x4.mul(a, b);

/** Runs code for every four nodes from the first on, `at` their place in an array; partial sums are put down. */
const forNodes = (layout: SolveLayout, ...code: Code[]): Code => [
  set(times, f32x4.splat(get(scalar))),
  set(sums, i32x4.splat(i32.const(0))),
  set(at, i32.const(0)),
  repeatWhile(i32.less(get(at), i32.const(layout.nodes)), ...code, set(at, i32.add(get(at), i32.const(16)))),
  v128.store(i32.const(0), get(sums), layout.sums),
];

const addToSums = (value: Code): Code => set(sums, f32x4.add(get(sums), value));

/**
 * The turns of conjugate gradients over a mesh, four nodes at a time. Each takes one number, 32-bit, and leaves
 * partial sums.
 */
export function solveCode(layout: SolveLayout) {
  const { strengths, offsets, factor, perPivot, potential, residual, eased, way, layer } = layout;
  const neighbours = strengths.slice(1).map((strength, n) => {
    const offset = offsets[n + 1]!;
    return f32x4.add(
      product(load(strength), load(way + offset)),
      product(load(strength - offset), load(way - offset)),
    );
  });
  const code = {
    /** product = couplings x way; sums way . product. */
    multiply: forNodes(
      layout,
      set(
        sum,
        neighbours.reduce((so, more) => f32x4.add(so, more), product(load(strengths[0]!), load(way))),
      ),
      store(layout.product, get(sum)),
      addToSums(product(get(sum), load(way))),
    ),
    /** potential += number way, residual -= number product; sums residual . residual. */
    advance: forNodes(
      layout,
      store(potential, f32x4.add(load(potential), product(load(way), get(times)))),
      set(sum, f32x4.sub(load(residual), product(load(layout.product), get(times)))),
      store(residual, get(sum)),
      addToSums(product(get(sum), get(sum))),
    ),
    /** Solves every column as a line: eased from residual; sums residual . eased. */
    ease: [
      forNodes(layout, store(eased, f32x4.sub(load(residual), product(load(factor), load(eased - layer))))),
      set(at, i32.const(layout.nodes)),
      set(sums, i32x4.splat(i32.const(0))),
      repeatWhile(
        get(at),
        set(at, i32.sub(get(at), i32.const(16))),
        set(
          sum,
          f32x4.sub(product(load(eased), load(perPivot)), product(load(factor + layer), load(eased + layer))),
        ),
        store(eased, get(sum)),
        addToSums(product(get(sum), load(residual))),
      ),
      v128.store(i32.const(0), get(sums), layout.sums),
    ],
    /** way = eased + number way. */
    turn: forNodes(layout, store(way, f32x4.add(load(eased), product(load(way), get(times))))),
  };
  const locals = [VALUE.i32, VALUE.v128, VALUE.v128, VALUE.v128];
  return {
    multiply: moduleOf([VALUE.f32], locals, code.multiply),
    advance: moduleOf([VALUE.f32], locals, code.advance),
    ease: moduleOf([VALUE.f32], locals, code.ease),
    turn: moduleOf([VALUE.f32], locals, code.turn),
  };
}
