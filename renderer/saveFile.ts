import type { Printed } from '../core/contract/print.ts';

/** Hands bytes to the person, by the window's own way of saving. */
const saveBytes = (name: string, type: string, bytes: Uint8Array<ArrayBuffer>): void => {
  const url = URL.createObjectURL(new Blob([bytes], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The click has taken the address; the next turn may give it back.
  setTimeout(() => URL.revokeObjectURL(url), 0);
};

/** Hands a text to the person, as a file of that name and media type. */
export const saveText = (file: {
  readonly name: string;
  readonly type: string;
  readonly text: string;
}): void => saveBytes(file.name, file.type, new TextEncoder().encode(file.text));

/** Hands what the bench printed to the person. */
export const savePrinted = ({ name, type, content }: Printed): void => {
  if (content.is === 'text') saveText({ name, type, text: content.text });
  else
    saveBytes(
      name,
      type,
      Uint8Array.from(atob(content.base64), (letter) => letter.charCodeAt(0)),
    );
};
