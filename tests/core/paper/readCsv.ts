/** A reader of RFC 4180, written for the tests apart from the writer: records of fields. */
export const readCsv = (text: string): string[][] => {
  const records: string[][] = [];
  let [record, field, quoted]: [string[], string, boolean] = [[], '', false];
  for (let at = 0; at < text.length; at += 1) {
    const character = text[at] as string;
    if (quoted) {
      if (character !== '"') field += character;
      else if (text[at + 1] === '"') {
        field += '"';
        at += 1;
      } else quoted = false;
    } else if (character === '"') quoted = true;
    else if (character === ',') {
      record.push(field);
      field = '';
    } else if (character === '\r' && text[at + 1] === '\n') {
      records.push([...record, field]);
      [record, field] = [[], ''];
      at += 1;
    } else field += character;
  }
  if (field !== '' || record.length > 0) throw new Error('the last record has no end');
  return records;
};

/** Records by the names of their header; every record must have them all. */
export const readTable = (text: string): Record<string, string>[] => {
  const [header = [], ...records] = readCsv(text);
  return records.map((record) => {
    if (record.length !== header.length) throw new Error(`a record of ${record.length} fields`);
    return Object.fromEntries(header.map((name, index) => [name, record[index] as string]));
  });
};
