import type { Point } from '../grid/frame.ts';
import type { Route } from '../travel/types.ts';
import { along } from './reach.ts';

/** Places along all routes, in order along each, gathered so that those round a spot are soon found. */
export interface SiteTravel {
  routes: readonly Route[];
  x: Float64Array;
  y: Float64Array;
  /** Route of each place, an index into `routes`, and its order along it. */
  route: Int32Array;
  order: Int32Array;
  /** Calls back for every place within `reach` metres of a spot, east-west and north-south. */
  visit(at: Point, reach: number, each: (place: number) => void): void;
}

/** Size of the squares places are gathered in, m. */
const SQUARE = 50;

/** @param spacing of the places, m */
export function siteTravel(routes: readonly Route[], spacing: number): SiteTravel {
  const xs: number[] = [];
  const ys: number[] = [];
  const of: number[] = [];
  const orders: number[] = [];
  routes.forEach(({ path }, r) => {
    let order = 0;
    for (const { at } of along(path, spacing)) {
      xs.push(at[0]);
      ys.push(at[1]);
      of.push(r);
      orders.push(order++);
    }
  });
  const squares = new Map<string, number[]>();
  const square = (value: number): number => Math.floor(value / SQUARE);
  xs.forEach((x, k) => {
    const key = `${square(x)} ${square(ys[k]!)}`;
    const places = squares.get(key);
    if (places) places.push(k);
    else squares.set(key, [k]);
  });
  return {
    routes,
    x: Float64Array.from(xs),
    y: Float64Array.from(ys),
    route: Int32Array.from(of),
    order: Int32Array.from(orders),
    visit([x, y], reach, each) {
      for (let row = square(y - reach); row <= square(y + reach); row++)
        for (let column = square(x - reach); column <= square(x + reach); column++)
          for (const place of squares.get(`${column} ${row}`) ?? []) each(place);
    },
  };
}
