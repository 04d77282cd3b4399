import { request } from 'node:http';
import { expect, onTestFinished, test } from 'vitest';
import type { WebSocket } from 'ws';
import { guestPushSchema, type GuestView } from '../../../core/contract/guestView.ts';
import { CORNERS, perCorner } from '../../../core/corners.ts';
import type { RefusedError } from '../../support/benchScreen.ts';
import { connect } from '../../electron/ask.ts';
import { writeBuiltPage } from '../../electron/builtPage.ts';
import { startPracticeBench, type PracticeBench } from '../../support/practiceBench.ts';
import { temporaryFolder } from '../../support/temporaryFolder.ts';

/** Guests of the whole bench: let in by commands of a screen, shown what that screen is shown. */

/** When the left rear pad falls silent, s of the driven clock. */
const SILENT_AT = 40;

const start = (): PracticeBench => {
  const bench = startPracticeBench({
    dir: temporaryFolder(),
    source: 'rig',
    rig: { script: [{ at: SILENT_AT, do: 'fade', pad: 'LR', seconds: 20 }] },
    guestFolder: writeBuiltPage(temporaryFolder()),
  });
  onTestFinished(() => bench.stop());
  return bench;
};

const refusal = (bench: PracticeBench, doing: Promise<unknown>): Promise<string> =>
  bench.settle(
    doing.then(
      () => 'done',
      (error: RefusedError) => error.message,
    ),
  );

/** Joins as a phone does, and takes every view. */
const joinAsGuest = async (bench: PracticeBench, url: URL): Promise<{ view: GuestView | null }> => {
  const { host, origin } = url;
  const cookie = await bench.settle(
    new Promise<string>((resolve, reject) => {
      const sent = request(
        `${origin}/join`,
        { method: 'POST', agent: false, headers: { origin } },
        (response) => {
          response.resume();
          response.on('end', () =>
            resolve((response.headers['set-cookie']?.[0] ?? '').split(';')[0] ?? ''),
          );
        },
      );
      sent.on('error', reject);
      sent.end(url.hash.slice(1));
    }),
  );
  const opened = await bench.settle(connect(Number(url.port), '/view', { host, origin, cookie }));
  if (typeof opened === 'number') throw new Error(`refused ${opened}`);
  const socket: WebSocket = opened;
  onTestFinished(() => socket.terminate());
  const guest: { view: GuestView | null } = { view: null };
  socket.on('message', (data: Buffer) => {
    const { no, view } = guestPushSchema.parse(JSON.parse(data.toString()));
    guest.view = view;
    socket.send(String(no));
  });
  return guest;
};

test('switched on, invited, joined: the view is the screen’s; a silent pad is old in it; revoked', async () => {
  const bench = start();
  const { screen } = bench;
  await bench.runUntil(
    () => screen.frame?.stillness === 'settled' && screen.frame.notReady === null,
    60,
  );
  expect(screen.state.guests).toEqual({ isOn: false, guests: [] });
  expect(await refusal(bench, screen.command({ do: 'invite guest', name: 'Phone 1' }))).toBe(
    'The view under the car is switched off. Switch it on first.',
  );

  await bench.settle(screen.command({ do: 'open guest view', isOn: true }));
  const invited = await bench.settle(screen.command({ do: 'invite guest', name: 'Phone 1' }));
  if (invited.is !== 'guest invited') throw new Error(invited.is);
  await bench.runUntil(() => screen.state.guests.guests.length === 1, 2);
  expect(screen.state.guests.guests).toMatchObject([{ id: invited.id, isHere: false }]);
  // The code is told to who asked for it and to nobody else.
  expect(JSON.stringify(screen.state)).not.toContain(new URL(invited.codes[0]!.url).hash.slice(1));

  const guest = await joinAsGuest(bench, new URL(invited.codes[0]!.url));
  await bench.runUntil(() => guest.view !== null && screen.state.guests.guests[0]!.isHere, 5);
  const { view } = guest;
  if (!view || !screen.frame) throw new Error('no view');
  expect(view).toMatchObject({
    isPractice: true,
    isCalibrated: false,
    unit: 'kg',
    call: null,
    stillness: 'settled',
    corners: perCorner(() => ({ status: 'live', stillness: 'settled', zeroed: true })),
    cross: { diagonal: 'RF+LR' },
  });
  for (const corner of CORNERS)
    expect(view.corners[corner].mean).toBeCloseTo(screen.frame.corners[corner].mean ?? 0, 1);
  expect(view.cross.share?.value).toBeCloseTo(screen.frame.balance?.crossShare.value ?? 0, 4);

  await bench.runUntil(() => guest.view?.corners.LR.status === 'stale', SILENT_AT);
  expect(bench.scheduler.now()).toBeGreaterThan(SILENT_AT);
  expect(bench.scheduler.now()).toBeLessThan(SILENT_AT + 1);
  expect(guest.view?.corners.LF.status).toBe('live');
  expect(guest.view?.cross.share).toBeNull();

  await bench.settle(screen.command({ do: 'revoke guest', id: invited.id }));
  await bench.runUntil(() => screen.state.guests.guests.length === 0, 2);
  expect(await refusal(bench, screen.command({ do: 'revoke guest', id: invited.id }))).toBe(
    'This device is not let in any more. Choose one from the list.',
  );
  await bench.settle(screen.command({ do: 'open guest view', isOn: false }));
  await bench.runUntil(() => !screen.state.guests.isOn, 2);
});
