import { kept } from './report.ts';

/**
 * A scheme of the program's own. Chromium alone does not know it, so its pages lie on a host that no
 * network has, and every request there is answered by the program's own handler.
 */

type Handler = (request: Request) => Response | Promise<Response>;

const handlers = new Map<string, Handler>();

const SUFFIX = '.stand-in.test';

/** The scheme's address as Chromium is given it. */
export const toChromium = (url: string): string => {
  const found = /^([a-z]+):\/\/([^/]+)(.*)$/.exec(url);
  const [, scheme, host, rest] = found ?? [];
  return scheme !== undefined && handlers.has(scheme)
    ? `https://${host}.${scheme}${SUFFIX}${rest}`
    : url;
};

/** Chromium's address as the program is told it. */
export const fromChromium = (url: string): string => {
  const found = /^https:\/\/([^/]+)\.([a-z]+)\.stand-in\.test(?=[/?#]|$)(.*)$/.exec(url);
  return found ? `${found[2]}://${found[1]}${found[3]}` : url;
};

/** The program's answer to a request of a page; null where the address is of no scheme of its own. */
export const answerRequest = async (url: string, method: string): Promise<Response | null> => {
  const own = fromChromium(url);
  const handler = handlers.get(own.slice(0, own.indexOf(':')));
  return own === url || !handler ? null : handler(new Request(own, { method }));
};

export const protocol = {
  registerSchemesAsPrivileged: (schemes: readonly unknown[]): void =>
    void kept.schemes.push(...schemes),
  handle: (scheme: string, handler: Handler): void => void handlers.set(scheme, handler),
};
