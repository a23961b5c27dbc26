package exam

import (
	"cmp"
	"time"

	"loosebox/exam/notation"
	"loosebox/ranges/words"
)

// Order is what is to be given and how, as the veterinarian ordered it and as
// the label of the product reads.
type Order struct {
	Product  string          `json:"product"`
	Active   string          `json:"active_ingredient,omitempty"`
	Strength string          `json:"strength,omitempty"`
	Maker    string          `json:"maker,omitempty"`
	Lot      string          `json:"lot,omitempty"`
	Expiry   notation.Expiry `json:"expiry,omitzero"`
	// Item and Serial are the item number (GTIN, 14 digits) and the serial number of the
	// package, where its code was scanned.
	Item     string  `json:"item,omitempty" text:"name"`
	Serial   string  `json:"serial,omitempty" text:"name"`
	Dose     string  `json:"dose,omitempty"` // as ordered, with its unit
	VolumeML float64 `json:"volume_ml,omitempty"`
	// VolumeFrom says where the volume comes from: worked out, or as ordered.
	VolumeFrom string `json:"volume_from,omitempty"`
	// SyringeML and MarkML are the syringe in hand and its smallest mark, both in
	// mL; 0 where none was named.
	SyringeML  float64 `json:"syringe_ml,omitempty"`
	MarkML     float64 `json:"mark_ml,omitempty"`
	WeightKg   float64 `json:"weight_kg,omitempty"`
	WeightFrom string  `json:"weight_from,omitempty"` // how it was weighed
	Route      Route   `json:"route,omitempty"`
	// Against names the diseases of a vaccine, by the keys of the schedule; none
	// for any other product.
	Against []string `json:"against,omitempty" most:"64,an order"`
	// Decision is the number of the entry that covers it, DecisionLine its identity.
	Decision     int    `json:"decision,omitempty"`
	DecisionLine Hash   `json:"decision_line,omitempty" text:"-"`
	SupervisedBy string `json:"supervised_by,omitempty"`
	Witness      string `json:"witness,omitempty"`
	NextDue      string `json:"next_due,omitempty"`        // day, as the veterinarian or the label says
	NotForFoodTo string `json:"not_for_food_to,omitempty"` // last day of withdrawal, from the veterinarian
	// NotForFoodDays is the withdrawal in days where it was said so; NotForFoodTo is then its end.
	NotForFoodDays int    `json:"not_for_food_days,omitempty"`
	TagNumber      string `json:"tag_number,omitempty"`  // rabies tag
	Certificate    string `json:"certificate,omitempty"` // number of the certificate
	// Without says why there is no earlier decision; Vet is then the veterinarian
	// who gave it or ordered it, How how the order came, Emergency what it was.
	Without   Without `json:"without_decision,omitempty"`
	Vet       string  `json:"vet,omitempty"`
	How       Means   `json:"how,omitempty"`
	Emergency string  `json:"emergency,omitempty"`
}

// NeedleSites is the table of words that the names of sites for a needle belong to.
const NeedleSites = "name of a site for a needle"

// NeedlePlace is where on the horse a needle goes in.
type NeedlePlace struct {
	Site  string `json:"site"` // key of the list of sites
	Side  Site   `json:"side,omitempty"`
	Words string `json:"words,omitempty"` // anything nearer, in words
}

// String is the place for a person: "neck triangle, left".
func (p NeedlePlace) String() string {
	text := words.Named(NeedleSites, p.Site)
	if p.Side != NoSite {
		text += ", " + p.Side.String()
	}
	if p.Words != "" {
		text += " (" + p.Words + ")"
	}
	return text
}

// InjectionLine is what an injection entry holds. Which fields it fills depends
// on its phase: order and checks when it is ready, place and needle when the
// needle goes in, the volume when it is given or stopped.
type InjectionLine struct {
	Number   int            `json:"number,omitempty"`      // of the injection in its visit, from 1
	Of       Hash           `json:"of,omitempty" text:"-"` // identity of the line that began it; empty in that line
	Phase    InjectionPhase `json:"phase"`
	Order    *Order         `json:"order,omitempty"`
	Checks   []Checked      `json:"checks,omitempty" most:"64,a check list"`
	Place    NeedlePlace    `json:"place,omitzero"`
	Needle   string         `json:"needle,omitempty"`
	VolumeML float64        `json:"volume_ml,omitempty"`
	// Sign is the key of a sign of danger that ended it, SignWords the sign in words.
	Sign      string     `json:"sign,omitempty"`
	SignWords string     `json:"sign_words,omitempty"`
	Why       StopReason `json:"why,omitempty"` // of stopped
	Disposal  Disposal   `json:"disposal,omitempty"`
	// Afterwards is true where the line was written down after an interruption,
	// from what the person said had happened.
	Afterwards bool `json:"afterwards,omitempty"`
	// NotKnown is true where nobody could say how much went in.
	NotKnown bool `json:"not_known,omitempty"`
	// Product and Route are what was really given and how, where that is not what
	// was ordered.
	Product string `json:"product,omitempty"`
	Route   Route  `json:"route,omitempty"`
	// GivenAt is when it was given, where that is before it was written down.
	GivenAt *time.Time `json:"given_at,omitempty"`
	// On is the day of an earlier dose: 2026, 2026-03 or 2026-03-04.
	On string `json:"on,omitempty"`
	// SeriesDone says of an earlier dose that the papers show the whole first series.
	SeriesDone bool   `json:"series_done,omitempty"`
	Basis      string `json:"basis,omitempty"` // of an earlier dose: passport, owner …
}

// NeedleAttempt is one needle in one place.
type NeedleAttempt struct {
	Place  NeedlePlace    `json:"place"`
	Needle string         `json:"needle,omitempty"`
	Seen   InjectionPhase `json:"seen,omitempty"` // clear, blood, in the vein, pulsing, not in place; empty while not said
	Signed
}

// Over says that the needle is out of this place.
func (a NeedleAttempt) Over() bool {
	return a.Seen == InjectionBlood || a.Seen == InjectionPulsing || a.Seen == InjectionNotFound
}

// Injection is one injection as it stands: the fold of its lines.
type Injection struct {
	Number   int             `json:"number"`
	Order    Order           `json:"order"`
	Checks   []Checked       `json:"checks,omitempty"`
	Attempts []NeedleAttempt `json:"attempts,omitempty"`
	State    InjectionPhase  `json:"state"`
	GivenML  float64         `json:"given_ml,omitempty"`
	// EndAt, EndBy and EndSeq belong to given, stopped and noted; EndSeq is also
	// that of a vessel met.
	EndAt      *time.Time `json:"end_at,omitempty"`
	EndBy      string     `json:"end_by,omitempty"` // who gave or stopped it
	EndSeq     int        `json:"end_seq,omitempty"`
	Sign       string     `json:"sign,omitempty"`
	SignWords  string     `json:"sign_words,omitempty"`
	Why        StopReason `json:"why,omitempty"`
	Disposal   Disposal   `json:"disposal,omitempty"`
	Afterwards bool       `json:"afterwards,omitempty"`
	NotKnown   bool       `json:"not_known,omitempty"`
	// GivenProduct and GivenRoute are what was really given, where it was not the order.
	GivenProduct string `json:"given_product,omitempty"`
	GivenRoute   Route  `json:"given_route,omitempty"`
	On           string `json:"on,omitempty"`
	SeriesDone   bool   `json:"series_done,omitempty"`
	Basis        string `json:"basis,omitempty"`
	Corrected    []int  `json:"corrected,omitempty"` // entries that later ones correct
	// Unaware are the numbers of injections that did not know of this one, nor it of them.
	Unaware []int `json:"unaware_of,omitempty"`
	// Missed are decisions before the needle, or before what was given, that its writer did not hold.
	Missed []int `json:"missed_decisions,omitempty"`
	Signed       // of its first line
}

// Finished says that it was given, stopped or only noted.
func (i Injection) Finished() bool {
	return i.State == InjectionGiven || i.State == InjectionStopped || i.State == InjectionNoted
}

// Earlier says that it is a dose noted from papers, or one that was noted so by
// mistake.
func (i Injection) Earlier() bool { return i.On != "" }

// NeedleIn is the attempt whose needle went in and of which nothing says that it
// came out: on resume the person is asked what happened.
func (i Injection) NeedleIn() (NeedleAttempt, bool) {
	if i.Finished() || len(i.Attempts) == 0 {
		return NeedleAttempt{}, false
	}
	last := i.Attempts[len(i.Attempts)-1]
	return last, !last.Over()
}

// Product is what was given, or is to be given: the order's, unless something
// else went in.
func (i Injection) Product() string { return cmp.Or(i.GivenProduct, i.Order.Product) }

// Route is how it was given, or is to be given.
func (i Injection) Route() Route { return cmp.Or(i.GivenRoute, i.Order.Route) }

// Against lists the diseases of a vaccine that was given as ordered. Of another
// product nobody said what it is against.
func (i Injection) Against() []string {
	if i.GivenProduct != "" {
		return nil
	}
	return i.Order.Against
}

// GivenBy is who gave it: the veterinarian where it was with their own hands.
func (i Injection) GivenBy() string {
	if i.Order.Without == OwnHands {
		return i.Order.Vet
	}
	return i.EndBy
}

// Counts says that a dose went in: given, or noted from earlier.
func (i Injection) Counts() bool { return i.State == InjectionGiven || i.State == InjectionNoted }
