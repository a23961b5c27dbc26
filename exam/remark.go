package exam

import (
	"time"

	"loosebox/exam/notation"
)

// Remark is what the program says about a finding. It names the limit crossed
// and where that limit comes from, and it diagnoses nothing.
type Remark struct {
	Step  StepID `json:"step"`
	Site  Site   `json:"site,omitempty"`
	Level Level  `json:"level"`
	// Value is the finding as shown, Unit the unit it was judged in.
	Value string        `json:"value"`
	Unit  notation.Unit `json:"unit,omitempty"`
	// Low and High are the ends of what is usual in Unit, null where there is no range.
	Low  *float64 `json:"low"`
	High *float64 `json:"high"`
	// Crossed says which limit, in words: "tell the vet from 60".
	Crossed  string   `json:"crossed,omitempty"`
	Evidence Evidence `json:"evidence,omitempty"`
	Source   string   `json:"source,omitempty"` // for a person: citation
	Practice bool     `json:"practice,omitempty"`
	Why      string   `json:"why"`
	// Medicine says what a medicine before the exam may hide or change of it; Why
	// holds the same sentence.
	Medicine string `json:"medicine,omitempty"`
	// Borderline is true where the interval of a count straddles the limit.
	Borderline bool `json:"borderline,omitempty"`
	// Own is the horse's own range, beside the published one.
	Own *OwnRange `json:"own,omitempty"`
	// Combination is true where several findings together make the remark.
	Combination bool `json:"combination,omitempty"`
	// Of are the places of a combination.
	Of []Key `json:"-"`
	// Injection is the number of the injection that it is about, in place of a
	// finding: step and site are empty then.
	Injection int `json:"injection,omitempty"`
	// Rank puts what matters most first among remarks of one level; lower is sooner.
	Rank int `json:"-"`
}

// OwnRange is what is usual for one horse, from its earlier visits, in Unit. One odd
// visit cannot move it far.
type OwnRange struct {
	Visits    int           `json:"visits"` // how many it was made from, at least four
	Median    float64       `json:"median"`
	Low       float64       `json:"low"`
	High      float64       `json:"high"`
	Unit      notation.Unit `json:"unit"`
	FirstAt   time.Time     `json:"first_at"`
	LastAt    time.Time     `json:"last_at"`
	LastValue float64       `json:"last_value"`
}
