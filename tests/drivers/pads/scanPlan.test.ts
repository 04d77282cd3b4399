import { expect, test } from 'vitest';
import { createDrivenScheduler } from '../../../core/scheduler.ts';
import { second } from '../../../core/units.ts';
import { createScanPlan } from '../../../drivers/pads/scanPlan.ts';

test('always while a pad is not live, a fifth of the time beside live pads, never without a radio', () => {
  const scheduler = createDrivenScheduler();
  const asked: string[] = [];
  const plan = createScanPlan({
    scheduler,
    scan: (on) => asked.push(`${on ? 'on' : 'off'} ${scheduler.now().toFixed(2)}`),
  });
  const look = (seconds: number, isAllLive: boolean): void => {
    for (let k = 0; k < seconds * 4; k++) {
      scheduler.advance(second(0.25));
      plan.look(isAllLive);
    }
  };
  look(2, true);
  expect(asked).toEqual([]);
  plan.radio(true);
  look(60, false);
  expect(asked).toEqual(['on 2.00']);
  look(20, true);
  expect(asked.slice(1)).toEqual(['off 64.25', 'on 72.25', 'off 74.25']);
  look(1, false);
  expect(asked.at(-1)).toBe('on 82.25');
  // A radio that was reset has forgotten: it is asked anew.
  plan.radio(false);
  plan.radio(true);
  expect(asked.slice(-2)).toEqual(['off 83.00', 'on 83.00']);
  plan.stop();
  expect(asked.at(-1)).toBe('off 83.00');
});
