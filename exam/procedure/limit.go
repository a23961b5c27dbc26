package procedure

import (
	"fmt"
	"math"

	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// Rules are a practice's own settings for procedures. The zero value is that of
// the program.
type Rules struct {
	// SiteML is the volume into one muscle from which a question is asked; 0 for
	// DefaultSiteML.
	SiteML float64 `json:"site_ml,omitempty"`
	// WatchMinutes is how long a horse is watched after an injection; 0 for none
	// set. No source read fixes it; 15 to 30 minutes are common practice (from
	// memory).
	WatchMinutes int `json:"watch_minutes,omitempty"`
}

// RulesOf reads the rules out of the settings; what is no possible number is none.
func RulesOf(s exam.Settings) Rules {
	var r Rules
	if s.SiteML > 0 && s.SiteML <= 100 {
		r.SiteML = s.SiteML
	}
	if s.WatchMinutes > 0 && s.WatchMinutes <= 24*60 {
		r.WatchMinutes = s.WatchMinutes
	}
	return r
}

// DefaultSiteML is the limit of a muscle site where the practice sets none: 10 mL
// a site stands on product labels for livestock and horses in the USA
// (drugs.com/vet). There is no agreed number: others have 2 mL
// in the neck, 15 mL a site, or 20 to 25 mL.
const DefaultSiteML = 10.0

// SiteLimit is the practice's limit of a muscle site with where it comes from.
type SiteLimit struct {
	ML       float64
	Source   string
	Evidence exam.Evidence
}

// SiteLimit is the limit that holds.
func (r Rules) SiteLimit() SiteLimit {
	if r.SiteML > 0 && !math.IsInf(r.SiteML, 0) {
		return SiteLimit{r.SiteML, "the practice's own setting", ranges.PracticeOwn}
	}
	return SiteLimit{DefaultSiteML, "labels in the USA: 10 mL a site", ranges.Published}
}

// OverLimit says, where a volume into a muscle is above the limit of a site, so;
// it stops nobody: the label and the veterinarian hold.
func (r Rules) OverLimit(route exam.Route, ml float64) (string, bool) {
	l := r.SiteLimit()
	if route != exam.RouteIM || math.IsNaN(ml) || ml <= l.ML {
		return "", false
	}
	sites := math.Ceil(ml / l.ML)
	return fmt.Sprintf("%s mL is more than %s mL in one site (%s); use %s sites. The label and the veterinarian decide.",
		notation.FormatNumber(ml, 2), notation.FormatNumber(l.ML, 2), l.Source, notation.FormatNumber(sites, 0)), true
}

// Needle is a needle that is commonly used for a route.
type Needle struct {
	Route    exam.Route
	For      string
	Gauge    string
	Length   string
	Why      string
	Source   string
	Evidence exam.Evidence
}

// NeedleRule stands over the list.
const NeedleRule = "A new needle and syringe for each horse, and a new needle for each insertion."

// Needles lists the needles of the trade.
func Needles() []Needle {
	const thacker = "Thacker DVM, in a magazine (horsesdaily.com 2017)"
	return []Needle{
		{exam.RouteIM, "adult, thick suspension", "18 (a label: 16-18)", "1.5 in", "", thacker + "; label at drugs.com/vet", ranges.PracticePage},
		{exam.RouteIM, "adult, thin", "20-21", "1.5 in", "", thacker, ranges.PracticePage},
		{exam.RouteIM, "foal, miniature", "20-22 (from memory)", "1 in", "", thacker + "; equineveterinaryservices.com", ranges.FromMemory},
		{exam.RouteSC, "", "20-22 (from memory)", "1 in or less", "", "equineveterinaryservices.com", ranges.FromMemory},
		{exam.RouteIV, "", "not finer than 18-20", "1-1.5 in", "so that an artery is seen to pulse; even these may not", "Dechant, in Complications in Equine Surgery, ch. 3", ranges.Published},
	}
}
