/** A decoder with a fault that only who is led by its branches reaches: three bytes deep. */
export const plantedDecode = (bytes: Uint8Array): number | null => {
  if (bytes[0] !== 0x4d) return null;
  if (bytes[1] !== 0x50) return null;
  if (bytes[2] !== 0x42) return null;
  return -1;
};
