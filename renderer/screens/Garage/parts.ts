/** The parts of the Garage, in the order in which they stand. */
export const GARAGE_PARTS = [
  { value: 'cars', text: 'Cars' },
  { value: 'pads', text: 'Pads' },
  { value: 'masses', text: 'Masses' },
  { value: 'gauges', text: 'Gauges' },
  { value: 'wheels', text: 'Wheels and tyres' },
  { value: 'plates', text: 'Plates' },
  { value: 'venues', text: 'Venues' },
  { value: 'authorities', text: 'Scrutineers' },
  { value: 'people', text: 'People' },
  { value: 'copies', text: 'Copies' },
  { value: 'settings', text: 'Settings' },
  { value: 'guests', text: 'Under the car' },
] as const;
export type GaragePart = (typeof GARAGE_PARTS)[number]['value'];
