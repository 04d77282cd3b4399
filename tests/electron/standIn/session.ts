import { answerWith } from './report.ts';

type Decider = (...values: unknown[]) => unknown;

const deciders = new Map<string, Decider>();
const set =
  (name: string) =>
  (decider: Decider): void =>
    void deciders.set(name, decider);

export const session = {
  defaultSession: {
    setPermissionRequestHandler: set('request'),
    setPermissionCheckHandler: set('check'),
    setDevicePermissionHandler: set('device'),
    setDisplayMediaRequestHandler: set('display'),
  },
};

/** What the deciders answer, each in the form of its own; an absent one is null, which permits all. */
const decide = (permission: string): readonly unknown[] => {
  const said: unknown[] = [];
  const hear = (answer: unknown): void => void said.push(answer);
  const [request, check, device, display] = ['request', 'check', 'device', 'display'].map((name) =>
    deciders.get(name),
  );
  if (request) request(null, permission, hear);
  else said.push(null);
  said.push(check ? check(null, permission, '', {}) : null);
  said.push(device ? device({ deviceType: permission, origin: '', device: {} }) : null);
  if (display) display({}, hear);
  else said.push(null);
  return said;
};

answerWith(({ permissions = [] }) => ({
  permissions: Object.fromEntries(permissions.map((one) => [one, decide(one)])),
}));
