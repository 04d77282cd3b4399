/**
 * The HCI packets that a controller sends and the numbers of the commands it takes, after the
 * Bluetooth Core specification, Vol 4 Part E (commands 7.1–7.8, events 7.7) and Part A for the
 * packet type in front. Only what the two libraries speak.
 */

export const PACKET = { command: 0x01, acl: 0x02, event: 0x04 } as const;

export const STATUS = {
  success: 0x00,
  unknownCommand: 0x01,
  unknownConnection: 0x02,
  supervisionTimeout: 0x08,
  disallowed: 0x0c,
  endedByRemote: 0x13,
  endedByUs: 0x16,
} as const;

export const COMMAND = {
  disconnect: 0x0406,
  setEventMask: 0x0c01,
  reset: 0x0c03,
  readLeHostSupport: 0x0c6c,
  writeLeHostSupport: 0x0c6d,
  readLocalVersion: 0x1001,
  readAddress: 0x1009,
  readRssi: 0x1405,
  leSetEventMask: 0x2001,
  leReadBufferSize: 0x2002,
  leSetAdvertisingParameters: 0x2006,
  leSetAdvertisingData: 0x2008,
  leSetScanResponseData: 0x2009,
  leSetAdvertiseEnable: 0x200a,
  leSetScanParameters: 0x200b,
  leSetScanEnable: 0x200c,
  leCreateConnection: 0x200d,
  leCreateConnectionCancel: 0x200e,
} as const;

export const u16 = (value: number): readonly number[] => [value & 0xff, value >> 8];

const event = (code: number, parameters: readonly number[]): Buffer =>
  Buffer.from([PACKET.event, code, parameters.length, ...parameters]);

/** One more command may always be sent: this controller answers at once. */
const COMMANDS_ALLOWED = 1;

export const commandComplete = (
  command: number,
  status: number,
  values: readonly number[] = [],
): Buffer => event(0x0e, [COMMANDS_ALLOWED, ...u16(command), status, ...values]);

export const commandStatus = (command: number, status: number): Buffer =>
  event(0x0f, [status, COMMANDS_ALLOWED, ...u16(command)]);

export const disconnectionComplete = (handle: number, reason: number): Buffer =>
  event(0x05, [STATUS.success, ...u16(handle), reason]);

export const completedPackets = (handle: number, packets: number): Buffer =>
  event(0x13, [1, ...u16(handle), ...u16(packets)]);

export interface ConnectionMade {
  readonly handle: number;
  readonly role: 'central' | 'peripheral';
  readonly peer: readonly number[];
  readonly interval: number;
  readonly latency: number;
  readonly timeout: number;
}

export const connectionComplete = (status: number, made: ConnectionMade): Buffer =>
  event(0x3e, [
    0x01,
    status,
    ...u16(made.handle),
    made.role === 'central' ? 0 : 1,
    0,
    ...made.peer,
    ...u16(made.interval),
    ...u16(made.latency),
    ...u16(made.timeout),
    0,
  ]);

export const REPORT = { connectable: 0x00, scanResponse: 0x04 } as const;

export const advertisingReport = (
  type: number,
  address: readonly number[],
  data: Buffer,
  rssi: number,
): Buffer => event(0x3e, [0x02, 1, type, 0, ...address, data.length, ...data, rssi & 0xff]);
