/** A typed array with room for more, its values kept. Memory that is not written to costs nothing: grow in few steps. */
export function grown<A extends Float64Array | Int32Array | Uint32Array | Uint8Array>(array: A, capacity: number): A {
  const larger = new (array.constructor as new (length: number) => A)(capacity);
  larger.set(array);
  return larger;
}
