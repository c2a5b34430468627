import { createContext } from '@lit/context';
import type { DecimalMark } from '../controls/format.ts';

/** How numbers and keys behave for this user; every element takes it from its surroundings. */
export interface View {
  mark: DecimalMark;
  theme: 'light' | 'dark';
  letterKeys: boolean;
}

export const DEFAULT_VIEW: View = { mark: '.', theme: 'light', letterKeys: true };

export const viewContext = createContext<View>('foil-view');
