package exam

import "time"

// DrawPhase is what one entry of a blood draw says.
type DrawPhase string

// The phases.
const (
	DrawReady    DrawPhase = "order"
	DrawNeedleIn DrawPhase = "needle in"
	DrawMissed   DrawPhase = "no blood"
	DrawTube     DrawPhase = "tube filled"
	DrawDone     DrawPhase = "drawn"
	DrawStopped  DrawPhase = "stopped"
)

// DrawPhases lists every phase.
func DrawPhases() []DrawPhase {
	return []DrawPhase{DrawReady, DrawNeedleIn, DrawMissed, DrawTube, DrawDone, DrawStopped}
}

// TubeKind names a blood tube by what is in it.
type TubeKind string

// The tubes, in the order of draw.
const (
	TubeCulture  TubeKind = "blood culture"
	TubeCitrate  TubeKind = "citrate"
	TubeSerum    TubeKind = "serum"
	TubeHeparin  TubeKind = "heparin"
	TubeEDTA     TubeKind = "EDTA"
	TubeFluoride TubeKind = "fluoride"
)

// Tube is one tube of a draw.
type Tube struct {
	Kind       TubeKind `json:"kind"`
	ML         float64  `json:"ml,omitempty"`
	Inversions int      `json:"inversions,omitempty"`
	Label      string   `json:"label,omitempty"` // as it was written on the tube
	Short      bool     `json:"short,omitempty"` // not filled as it must be
}

// DrawOrder is what a draw is for.
type DrawOrder struct {
	For   string `json:"for"` // what is to be looked at, as the veterinarian said
	Tubes []Tube `json:"tubes,omitempty" most:"64,a blood draw"`
	// Official is true for a sample that the law lets only the accredited
	// veterinarian draw; VetDraws is then the name of who draws.
	Official bool   `json:"official,omitempty"`
	VetDraws string `json:"vet_draws,omitempty"`
	// Decision is the number of the entry that covers it, DecisionLine its identity.
	Decision     int  `json:"decision,omitempty"`
	DecisionLine Hash `json:"decision_line,omitempty" text:"-"`
}

// DrawLine is what a draw entry holds.
type DrawLine struct {
	Number     int         `json:"number,omitempty"`
	Of         Hash        `json:"of,omitempty" text:"-"` // identity of the line that began it; empty in that line
	Phase      DrawPhase   `json:"phase"`
	Order      *DrawOrder  `json:"order,omitempty"`
	Checks     []Checked   `json:"checks,omitempty" most:"64,a check list"`
	Place      NeedlePlace `json:"place,omitzero"`
	Needle     string      `json:"needle,omitempty"`
	Tube       *Tube       `json:"tube,omitempty"`      // of tube filled
	VolumeML   float64     `json:"volume_ml,omitempty"` // of drawn or stopped: the whole
	Sign       string      `json:"sign,omitempty"`
	SignWords  string      `json:"sign_words,omitempty"`
	Why        StopReason  `json:"why,omitempty"`
	Afterwards bool        `json:"afterwards,omitempty"`
	NotKnown   bool        `json:"not_known,omitempty"`
}

// Stick is one needle of a draw.
type Stick struct {
	Place  NeedlePlace `json:"place"`
	Needle string      `json:"needle,omitempty"`
	Missed bool        `json:"missed,omitempty"`
	Signed
}

// Filled is a tube that was filled.
type Filled struct {
	Tube
	Seq int `json:"seq"`
}

// Draw is one blood draw as it stands.
type Draw struct {
	Number     int        `json:"number"`
	Order      DrawOrder  `json:"order"`
	Checks     []Checked  `json:"checks,omitempty"`
	Sticks     []Stick    `json:"sticks,omitempty"`
	Filled     []Filled   `json:"filled,omitempty"`
	State      DrawPhase  `json:"state"`
	VolumeML   float64    `json:"volume_ml,omitempty"`
	EndAt      *time.Time `json:"end_at,omitempty"`
	EndBy      string     `json:"end_by,omitempty"`
	EndSeq     int        `json:"end_seq,omitempty"`
	Sign       string     `json:"sign,omitempty"`
	SignWords  string     `json:"sign_words,omitempty"`
	Why        StopReason `json:"why,omitempty"`
	Afterwards bool       `json:"afterwards,omitempty"`
	NotKnown   bool       `json:"not_known,omitempty"`
	Corrected  []int      `json:"corrected,omitempty"`
	Unaware    []int      `json:"unaware_of,omitempty"` // as of an Injection
	Missed     []int      `json:"missed_decisions,omitempty"`
	Signed
}

// Finished says that it was drawn or stopped.
func (d Draw) Finished() bool { return d.State == DrawDone || d.State == DrawStopped }

// NeedleIn is the stick of which nothing says that it came out.
func (d Draw) NeedleIn() (Stick, bool) {
	if d.Finished() || len(d.Sticks) == 0 {
		return Stick{}, false
	}
	last := d.Sticks[len(d.Sticks)-1]
	return last, !last.Missed
}

// DrawnML is how much blood was taken: what was said at the end, or the sum of
// the tubes filled so far.
func (d Draw) DrawnML() float64 {
	if d.Finished() && d.VolumeML > 0 {
		return d.VolumeML
	}
	sum := 0.0
	for _, t := range d.Filled {
		sum += t.ML
	}
	return sum
}
