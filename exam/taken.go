package exam

// Only one laptop records needles for a visit: the one that opened it, or that took it over last.
// So two people without a network do not both give one dose. Orders that the veterinarian gave
// without an earlier decision, signs of danger and notes can be saved on any laptop.

// TakenLine is what an entry holds by which a laptop takes a visit over: from then on it
// puts the needles in.
type TakenLine struct {
	From string `json:"from" text:"name"` // who was asked whether a needle is in there; empty for nobody
}

// Taken is a take-over as it stands in a visit. A needle of the other laptop that it did not know
// is listed by Unsettled.
type Taken struct {
	TakenLine
	Signed
	Without []int `json:"made_without,omitempty"` // as of a Decided
}
