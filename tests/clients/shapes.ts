// A literal of every shape of opening, as the made client types it; what must not be taken stands under @ts-expect-error.
import type { components } from "./api";

type Line = components["schemas"]["OpeningLine"];
const counted = { mark: "A", quantity: 2 };
export const lines: Line[] = [
  { ...counted, width: "48 in", height: "4'-0\"" },
  { ...counted, shape: "rectangle", width: "36 in", height: 84, kind: "door", sill: { kind: "threshold" } },
  { ...counted, shape: "round", diameter: "24 in", access: "lift" },
  { ...counted, shape: "half_round_top", width: "48 in", springline: "60 in" },
  { ...counted, shape: "half_round_top", width: "48 in", height: "84 in" },
  { ...counted, shape: "segmental_top", width: "48 in", rise: "12 in", height: "84 in" },
  { ...counted, shape: "ellipse", width: "36 in", height: "60 in" },
  { ...counted, shape: "polygon", points: [[0, 0], ["36 in", 0], ["18 in", "36 in"]] },
  { ...counted, shape: "outline", points: [[0, 0], [36, 0], [36, 48], [0, 48]] },
  { ...counted, shape: "pipe", diameter: "4 in", lap_on_pipe: "2 in" },
  { ...counted, kind: "pipe", diameter: "114 mm" },
  { ...counted, excluded: { reason: "by others" } },
];

// @ts-expect-error a round opening needs its diameter
export const without: Line = { ...counted, shape: "round" };
// @ts-expect-error no such shape
export const unknown: Line = { ...counted, shape: "triangle", width: "36 in", height: "36 in" };

// What a line is follows from its shape.
export function size(line: Line): unknown {
  if (!("shape" in line)) return undefined;
  switch (line.shape) {
    case "round":
      return "excluded" in line && line.excluded ? undefined : line.diameter;
    case "polygon":
      return line.points;
    default:
      return undefined;
  }
}
