import type { Car } from '../../../core/sheet/car.ts';

/** Where the car stands on the plan, in CSS pixels. */
export interface PlanGeometry {
  readonly width: number;
  readonly height: number;
  /** Pixels per metre. */
  readonly scale: number;
  /** x of the car's centre line. */
  readonly centre: number;
  readonly frontAxle: number;
  readonly rearAxle: number;
  /** Width and height of a corner block. */
  readonly block: { readonly width: number; readonly height: number };
}

/** Room the car needs beside its track (wheels), m. */
const BESIDE = 0.42;
/** Body before the front axle and behind the rear one, m: as it is drawn. */
const AHEAD = 0.72;
const BEHIND = 0.57;
const GAP = 14;
const MOST_BLOCK = { width: 340, height: 236 };
const LEAST_BLOCK_HEIGHT = 128;

/**
 * Fits the car, to scale, and a block at each wheel into a space: blocks are centred on the axle
 * where there is room, and never overlap.
 */
export const planGeometry = (car: Car, width: number, height: number): PlanGeometry => {
  const blockHeight = Math.min(MOST_BLOCK.height, Math.max(LEAST_BLOCK_HEIGHT, (height - GAP) / 2));
  const carWidth = Math.min(Math.max(width * 0.27, 170), 330);
  const widest = Math.max(car.trackFront, car.trackRear) + BESIDE;
  const scale = Math.max(
    1,
    Math.min(
      carWidth / widest,
      height / (car.wheelbase + AHEAD + BEHIND),
      Math.max(height - blockHeight, blockHeight) / car.wheelbase,
    ),
  );
  const blockWidth = Math.min(MOST_BLOCK.width, (width - widest * scale) / 2 - GAP);
  const frontAxle = (height - (car.wheelbase + BEHIND - AHEAD) * scale) / 2;
  return {
    width,
    height,
    scale,
    centre: width / 2,
    frontAxle,
    rearAxle: frontAxle + car.wheelbase * scale,
    block: { width: Math.max(150, blockWidth), height: blockHeight },
  };
};

/** Top of the block of an axle: centred on it, but within the plan and clear of the other's. */
export const blockTop = (plan: PlanGeometry, axle: 'front' | 'rear'): number => {
  const { height, block } = plan;
  const wanted = (axle === 'front' ? plan.frontAxle : plan.rearAxle) - block.height / 2;
  return axle === 'front'
    ? Math.max(0, Math.min(wanted, height / 2 - GAP / 2 - block.height))
    : Math.min(height - block.height, Math.max(wanted, height / 2 + GAP / 2));
};
