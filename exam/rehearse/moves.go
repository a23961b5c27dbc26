package rehearse

// MoveKind is what a horse does of itself.
type MoveKind string

// The kinds of movement.
const (
	StepsAway  MoveKind = "steps away"
	LiftsLeg   MoveKind = "lifts a leg"
	Swings     MoveKind = "swings its quarters"
	ThrowsHead MoveKind = "throws its head"
	Shifts     MoveKind = "shifts its weight"
)

// Movement is one movement of the horse, told as it happens. It asks nothing; see DangerMoment for what does.
type Movement struct {
	AtS   float64  `json:"at_s"`
	Kind  MoveKind `json:"kind"`
	Words string   `json:"words"`
}

// Moves lists what the horse does of itself from one second up to another. How often depends on its temper (assumed).
func (h *Horse) Moves(from, to float64) []Movement {
	told := []Movement{
		{Kind: StepsAway, Words: "It takes a step away from you. Your hand stays on it and you go along."},
		{Kind: LiftsLeg, Words: "It lifts a hind foot and puts it down again. You wait until the foot stands."},
		{Kind: Swings, Words: "Its quarters come towards you. You go with the hip, close to it."},
		{Kind: ThrowsHead, Words: "It throws its head up. You let the handler bring it down."},
		{Kind: Shifts, Words: "It shifts its weight. You stay beside it, on your feet."},
	}
	times := h.moves.between(from, to)
	out := make([]Movement, len(times))
	for i, at := range times {
		r := h.Origin.random("move" + milliText(at))
		out[i] = told[r.IntN(len(told))]
		out[i].AtS = at
	}
	return out
}
