import { PAD_SOURCES, type PadSource } from '../../core/bench/ports.ts';
import { settingsSchema, type Settings } from '../../core/contract/settings.ts';
import { insert, type Adding } from './adding.ts';
import { fromJson, type Reading } from './reading.ts';

/** Settings and the chosen source of pads, each with its history: the newest counts. */
export const createSettings = ({ db, stamp }: Adding, reading: Reading) => {
  const addSettings = insert(db, 'settings', 'id added_at settings');
  const addSource = insert(db, 'source_choices', 'id added_at source');
  const newestSettings = db.prepare<{ id: string; settings: string }>(
    'SELECT id, settings FROM settings ORDER BY seq DESC LIMIT 1',
  );
  const newestSource = db.prepare<{ source: string }>(
    'SELECT source FROM source_choices ORDER BY seq DESC LIMIT 1',
  );
  const json = (settings: Settings): string => JSON.stringify(settingsSchema.parse(settings));

  return {
    addSettings: (settings: Settings): void =>
      addSettings({ ...stamp(), settings: json(settings) }),
    addSource: (source: PadSource): void => addSource({ ...stamp(), source }),
    newestSettings: (): Settings | null => {
      const row = newestSettings.get();
      return row
        ? reading.parse(settingsSchema, `settings ${row.id}`, () => fromJson(row.settings))
        : null;
    },
    newestSource: (): PadSource | null => {
      const source = newestSource.get()?.source;
      return PAD_SOURCES.find((known) => known === source) ?? null;
    },
  };
};
