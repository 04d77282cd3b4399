import { expect, test } from 'vitest';
import {
  idOf,
  openedStore,
  prepare,
  sampleCalibration,
  sampleKept,
  sampleZero,
} from './sampleRecords.ts';
import { temporaryFolder } from './temporaryFolder.ts';

test('kept records and calibrations come back as they were, in their order, after a restart', () => {
  const dir = temporaryFolder();
  const store = openedStore(dir);
  prepare(store);
  expect([1, 2, 3].map((n) => store.keep(sampleKept(n)).ok)).toEqual([true, true, true]);
  expect(store.saveCalibration(sampleCalibration(1))).toEqual({ ok: true });
  expect(store.saveCalibration(sampleCalibration(2, idOf(0x2001)))).toEqual({ ok: true });
  store.close();

  const again = openedStore(dir, 2);
  expect(again.kept('mass check')).toEqual([1, 2, 3].map((n) => sampleKept(n)));
  expect(again.kept('mass set')).toEqual([]);
  expect(again.calibrationsOf('pad-LF')).toEqual([
    sampleCalibration(2, idOf(0x2001)),
    sampleCalibration(1),
  ]);
  expect(again.calibrationsOf('pad-RF')).toEqual([]);
  expect(again.zerosOf('pad-LF')).toEqual([sampleZero(0, 'pad-LF')]);
  again.close();
});

test('what could not be read back is refused, and so is a second record of one id', () => {
  const store = openedStore(temporaryFolder());
  prepare(store);
  expect(store.keep(sampleKept(1, { subject: '' })).ok).toBe(false);
  expect(store.keep(sampleKept(1)).ok).toBe(true);
  expect(store.keep(sampleKept(1)).ok).toBe(false);
  expect(store.saveCalibration(sampleCalibration(2, idOf(0x2009))).ok).toBe(false);
  expect(store.kept('mass check')).toEqual([sampleKept(1)]);
  store.close();
});
