package judge

import "loosebox/ranges/words"

// DangerSign is the key of a danger sign that published studies count. Files for other programs hold its English words.
type DangerSign string

const (
	signHeart   DangerSign = "heart"
	signGums    DangerSign = "gums"
	signPain    DangerSign = "pain"
	signGut     DangerSign = "gut"
	signRefill  DangerSign = "refill"
	signPulse   DangerSign = "pulse"
	signLegs    DangerSign = "legs"
	signSeizure DangerSign = "seizure"
)

// DangerStudy is the key of the animals that the studies of a count were made on.
type DangerStudy string

const (
	studiedColic   DangerStudy = "colic"
	studiedFoals   DangerStudy = "foals"
	studiedDonkeys DangerStudy = "donkeys"
)

var (
	dangerSigns = words.New("danger sign of a count", map[DangerSign]string{
		signHeart:   "heart 60 or more",
		signGums:    "abnormal gum color",
		signPain:    "severe or constant pain",
		signGut:     "no gut sound in a quadrant",
		signRefill:  "refill over 2.5 s",
		signPulse:   "weak pulse",
		signLegs:    "cold legs",
		signSeizure: "seizure",
	})
	dangerStudies = words.New("studied for danger signs", map[DangerStudy]string{
		studiedColic:   "colic",
		studiedFoals:   "ill newborn foals",
		studiedDonkeys: "donkeys",
	})
)

// String is the sign for a person.
func (s DangerSign) String() string { return dangerSigns.Of(s) }

// MarshalText is the sign for other programs: English, whatever the language in use is.
func (s DangerSign) MarshalText() ([]byte, error) { return []byte(dangerSigns.English(s)), nil }

// String is what was studied, for a person.
func (s DangerStudy) String() string { return dangerStudies.Of(s) }

// MarshalText is what was studied, for other programs: English, whatever the language in use is.
func (s DangerStudy) MarshalText() ([]byte, error) { return []byte(dangerStudies.English(s)), nil }
