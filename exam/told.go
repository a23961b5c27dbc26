package exam

// ToldUpTo is the entry up to which the veterinarian knows the visit: of the last
// hand-off, decision or reading by a veterinarian; 0 for none of them.
func (v Visit) ToldUpTo() int {
	told := 0
	for _, h := range v.HandOffs {
		told = max(told, h.Seq)
	}
	for _, d := range v.Decisions { // who decided after a finding knows of it
		told = max(told, d.Since().Seq)
	}
	if r, _, ok := v.SignedOff(); ok {
		told = max(told, r.Seq)
	}
	return told
}

// Reasons of WithoutHandOff; after the first and the last nothing is left to tell.
const (
	KnownAlready = "the veterinarian knows it already"
	NotReached   = "the veterinarian cannot be reached"
	HandOffLater = "it is handed off later"
	ByMistake    = "entered by mistake"
)

// WithoutHandOff lists reasons for which a visit is closed although something in it
// was for the veterinarian and is not handed off. Other words are taken too.
func WithoutHandOff() []string {
	return []string{KnownAlready, NotReached, HandOffLater, ByMistake}
}
