package exam

// One laptop puts needles into the horse of a visit: the one that opened it, or that took
// it over last. So two people who cannot hear of each other do not give one dose twice. An
// order that was given without an earlier decision, a sign of danger and a note can be
// written down on any.

// TakenLine is what an entry holds by which a laptop takes a visit over: from then on it
// puts the needles in.
type TakenLine struct {
	From string `json:"from" text:"name"` // who was asked whether a needle is in there; empty for nobody
}

// Taken is a taking over as it stands in a visit. A needle of the other laptop that it did
// not know of is Unsettled.
type Taken struct {
	TakenLine
	Signed
	Without []int `json:"made_without,omitempty"` // as of a Decided
}

// WhyTaken stands as the reason where a closed visit is taken over.
const WhyTaken = "a procedure was decided after the visit was closed"
