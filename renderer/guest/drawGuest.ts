import { CORNERS, perCorner } from '../../core/corners.ts';
import { STILLNESS_SHAPES } from '../parts/stillnessShapes.ts';
import type { CornerShown, GuestShown } from './guestShown.ts';

/** Puts texts where they stand; what has not changed is not touched, and no text becomes markup. */

const SVG = 'http://www.w3.org/2000/svg';
/** The bar begins so far below nothing turned and ends as far above the target, in calls. */
const BEYOND = 0.25;

const at = (id: string): HTMLElement => {
  const element = document.getElementById(id);
  if (!element) throw new Error(`the page has no #${id}`);
  return element;
};

const setText = (element: Element, text: string): void => {
  if (element.textContent !== text) element.textContent = text;
};
const setAttribute = (element: Element, name: string, value: string): void => {
  if (element.getAttribute(name) !== value) element.setAttribute(name, value);
};

/** A figure as wide as its place, by how many letters it has. */
const setFigure = (element: HTMLElement, text: string): void => {
  if (element.textContent === text) return;
  element.textContent = text;
  element.style.setProperty('--letters', String(Math.max(4, text.length)));
};

const make = (name: string, className: string, parent: Element): HTMLElement => {
  const element = document.createElement(name);
  element.className = className;
  parent.append(element);
  return element;
};

const makeCorner = (corner: string): ((shown: CornerShown) => void) => {
  const article = make('article', 'corner', at('corners'));
  article.dataset['corner'] = corner;
  const head = make('p', 'head', article);
  const label = make('span', 'label', head);
  const name = make('span', 'unseen', head);
  const mark = document.createElementNS(SVG, 'svg');
  mark.setAttribute('viewBox', '0 0 36 20');
  mark.setAttribute('aria-hidden', 'true');
  mark.setAttribute('class', 'level');
  const path = document.createElementNS(SVG, 'path');
  mark.append(path);
  head.append(mark);
  const still = make('span', 'unseen', head);
  const figure = make('p', 'figure', article);
  const number = make('span', 'number', figure);
  const unit = make('span', 'unit', figure);
  const said = make('p', 'said', article);
  label.setAttribute('aria-hidden', 'true');
  return (shown) => {
    setText(label, shown.label);
    setText(name, shown.name);
    setText(still, shown.stillness ?? '');
    setAttribute(path, 'd', shown.stillness ? STILLNESS_SHAPES[shown.stillness] : '');
    setFigure(number, shown.number);
    setText(unit, shown.unit);
    setText(said, shown.said);
    setAttribute(article, 'data-status', shown.status);
    setAttribute(article, 'data-overload', String(shown.isOverloaded));
  };
};

const drawCall = (call: GuestShown['call']): void => {
  setAttribute(at('view'), 'data-call', call ? call.look : 'none');
  if (!call) return;
  setText(at('call-label'), call.label);
  setText(at('call-name'), call.name);
  setText(at('call-way'), `${call.way} `);
  setText(at('call-turns'), call.turns);
  at('call-turns').style.setProperty('--letters', String(Math.max(5, call.turns.length)));
  setText(at('said'), call.said);
  setAttribute(at('call'), 'data-way', call.way);
  const place = (share: number): number =>
    (100 * (Math.min(1 + BEYOND, Math.max(-BEYOND, share)) + BEYOND)) / (1 + 2 * BEYOND);
  const from = place(0);
  const to = place(call.share ?? 0);
  const fill = at('fill').style;
  fill.setProperty('left', `${Math.min(from, to)}%`);
  fill.setProperty('width', `${Math.abs(to - from)}%`);
};

/** Makes the four corners; the answer draws. */
export const createDrawing = (): ((shown: GuestShown) => void) => {
  const corners = perCorner(makeCorner);
  return (shown) => {
    setAttribute(document.body, 'data-shows', 'view');
    setAttribute(at('view'), 'data-silent', String(shown.isSilent));
    setText(at('news'), shown.news);
    setText(at('tags'), shown.tags);
    setAttribute(at('level'), 'd', shown.stillness ? STILLNESS_SHAPES[shown.stillness] : '');
    drawCall(shown.call);
    for (const corner of CORNERS) corners[corner](shown.corners[corner]);
    setText(at('cross-label'), shown.cross.label);
    setFigure(at('cross-number'), shown.cross.number);
    setAttribute(at('cross'), 'data-old', String(shown.cross.isOld));
  };
};

/** Nothing but a sentence: all figures are gone. */
export const drawDoor = (why: string): void => {
  setAttribute(document.body, 'data-shows', 'door');
  at('view').remove();
  setText(at('door'), why);
};
