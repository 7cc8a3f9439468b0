/**
 * How much a remark matters. `note`: good to know. `caution`: the number can be used, with this in mind.
 * `repeat`: the recording cannot carry a time constant that would be defended.
 */
export type Severity = 'note' | 'caution' | 'repeat';
