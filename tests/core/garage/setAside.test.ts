import { expect, onTestFinished, test } from 'vitest';
import { EXAMPLE_CAR } from '../../../core/sheet/car.ts';
import { startPracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';

test('a car set aside stays in the list, in either world and after a new start, until taken back', async () => {
  const dir = temporaryFolder();
  const start = (source: 'rig' | 'bluetooth') => startPracticeBench({ dir, source });
  const practice = start('rig');
  const { screen } = practice;
  const keep = (isAside: boolean) =>
    screen.command({
      do: 'keep',
      record: {
        kind: 'set aside',
        id: 'x',
        at: 0,
        practice: false,
        subject: EXAMPLE_CAR.id,
        isAside,
      },
    });
  const told = (ids: readonly string[]) =>
    practice.runUntil(() => screen.state.aside.join() === ids.join(), 5);
  await told([]);
  await keep(true);
  await told([EXAMPLE_CAR.id]);
  expect(screen.state.cars).toMatchObject([{ id: EXAMPLE_CAR.id }]);
  await keep(false);
  await told([]);
  await keep(true);
  await practice.stop();

  const real = start('bluetooth');
  onTestFinished(() => real.stop());
  expect(real.screen.state.aside).toEqual([EXAMPLE_CAR.id]);
});
