// SPDX-License-Identifier: Apache-2.0
// Which length can be named as the one from which hauling pays.

// Only where the costs cross once and hauling is the cheaper beyond, in metres; else null, and the reasons say what is so.
export const hauled_from = (even) => (even?.haul_from_m && even.drive_below_m && even.crossings_m.length === 1 ? even.haul_from_m : null);
