package judge

import (
	"fmt"
	"slices"
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
	"loosebox/ranges/words"
)

// sign is a danger sign from published studies: whether it was seen, and whether it is open because nobody looked.
type sign struct {
	step exam.StepID
	name DangerSign
	look func(p *judgedVisit) (seen, open bool)
}

// fourSigns are those that the colic page of the University of Nottingham and the British Horse Society names together
// (REACT), from CURTIS, BOWDEN and a workshop of veterinarians: heart, gum colour, pain, and no gut sound in a quadrant.
func fourSigns() []sign {
	return []sign{
		{"heart.rate", signHeart, fastHeart},
		{"gum.colour", signGums, changedGums},
		{"pain.signs", signPain, severePain},
		{"gut.sounds", signGut, silentQuadrant},
	}
}

// twoSigns stand beside the four: slow refill and a weak pulse (CURTIS).
func twoSigns() []sign {
	return []sign{
		{"gum.refill", signRefill, slowRefill},
		{"pulse.strength", signPulse, weakPulse},
	}
}

func sixSigns() []sign { return slices.Concat(fourSigns(), twoSigns()) }

// foalSigns are the three of FOAL25 in ill foals under three days.
func foalSigns() []sign {
	return []sign{
		{"pulse.strength", signPulse, weakPulse},
		{"limb.warmth", signLegs, coldLegs},
		{"demeanour", signSeizure, seizure},
	}
}

// dangerBeats is the heart rate of the four signs; a class whose own limit to tell is higher takes that one.
const dangerBeats = 60.0

func fastHeart(p *judgedVisit) (seen, open bool) {
	a, ok := p.measured("heart.rate")
	if !ok {
		return false, true
	}
	from := dangerBeats
	if a.row != nil && a.row.Tell.High != nil {
		from = max(from, *a.row.Tell.High)
	}
	switch a.finding.Value.Bound {
	case exam.Under, exam.UpTo:
		return false, a.value >= from
	case exam.AtLeast, exam.Over:
		return a.value >= from-slack, a.value < from-slack
	case exam.NoBound:
	}
	return a.value >= from-slack, false
}

func changedGums(p *judgedVisit) (seen, open bool) {
	return answerOf(p, "gum.colour", []string{"pale", "white", "bright", "brick", "purple", "toxicline", "yellow", "brown", "spots"}, "pigmented")
}

func severePain(p *judgedVisit) (seen, open bool) {
	return answerOf(p, "pain.signs", []string{"kicks", "rolls", "severe", "constant"})
}

func weakPulse(p *judgedVisit) (seen, open bool) {
	return answerOf(p, "pulse.strength", []string{"weak"}, "none")
}

func seizure(p *judgedVisit) (seen, open bool) { return answerOf(p, "demeanour", []string{"seizure"}) }

func coldLegs(p *judgedVisit) (seen, open bool) { return answerOf(p, "limb.warmth", []string{"cold"}) }

// answerOf looks for answers; one that says that nothing could be seen leaves the sign open.
func answerOf(p *judgedVisit, step exam.StepID, keys []string, blind ...string) (seen, open bool) {
	held := p.of(step)
	switch {
	case len(held) == 0:
		return false, true
	case len(p.having(step, keys...)) > 0:
		return true, false
	}
	for i := range held {
		if len(held[i].choices) == 0 || slices.ContainsFunc(blind, held[i].holds) {
			return false, true
		}
	}
	return false, false
}

func silentQuadrant(p *judgedVisit) (seen, open bool) {
	if len(p.having("gut.sounds", "none")) > 0 {
		return true, false
	}
	return false, !p.everywhere("gut.sounds", quadrants())
}

func slowRefill(p *judgedVisit) (seen, open bool) {
	if _, ok := p.measured("gum.refill"); !ok {
		return false, true
	}
	return len(p.beyond("gum.refill", 2.5+boundStep)) > 0, false
}

// DangerCount is a count of danger signs from published studies, for a horse that the veterinarian is told of: which to call
// about first. It is no score and no prognosis; a low count says nothing good.
type DangerCount struct {
	About     DangerStudy  `json:"about"`
	Seen      []DangerSign `json:"seen"`
	NotLooked []DangerSign `json:"not_looked_at"`
	Of        int          `json:"of"`
	// Beside names what was seen of the signs that stand beside the counted ones, and which of them were not checked.
	Beside     []DangerSign  `json:"beside,omitempty"`
	BesideOpen []DangerSign  `json:"beside_not_looked_at,omitempty"`
	Source     string        `json:"source"`
	Evidence   exam.Evidence `json:"evidence"`

	first bool
	heart float64
}

// Danger counts the danger signs of a visit: the four of colic in grown horses and ponies, the three of ill foals under
// three days; those of colic at a visit for colic, or where two of them were seen. A donkey has no count: dull or off its
// feed it comes first. False where none applies.
func (j *Judge) Danger(v exam.Visit) (DangerCount, bool) { return j.danger(j.look(&v, nil)) }

func (j *Judge) danger(p *judgedVisit) (DangerCount, bool) {
	switch {
	case p.class.GrownHorse():
		d := j.count(p, studiedColic, fourSigns(), "REACT", "CURTIS", "BOWDEN")
		for _, s := range twoSigns() {
			switch seen, open := s.look(p); {
			case seen:
				d.Beside = append(d.Beside, s.name)
			case open:
				d.BesideOpen = append(d.BesideOpen, s.name)
			}
		}
		return d, colicVisit(p.visit) || len(d.Seen) > 1
	case underThreeDays(p):
		return j.count(p, studiedFoals, foalSigns(), "FOAL25"), true
	case p.visit.Horse.Kind == exam.AnimalDonkey:
		off := slices.Concat(dull(p), p.having("pain.signs", "offfeed"))
		return DangerCount{
			About: studiedDonkeys, Seen: []DangerSign{}, NotLooked: []DangerSign{}, Source: j.table.Cite("DSGI"), Evidence: ranges.Published, first: true,
		}, len(off) > 0
	}
	return DangerCount{}, false
}

func (j *Judge) count(p *judgedVisit, about DangerStudy, signs []sign, sources ...string) DangerCount {
	d := DangerCount{About: about, Seen: []DangerSign{}, NotLooked: []DangerSign{}, Of: len(signs), Evidence: ranges.Published}
	for _, s := range signs {
		switch seen, open := s.look(p); {
		case seen:
			d.Seen = append(d.Seen, s.name)
		case open:
			d.NotLooked = append(d.NotLooked, s.name)
		}
	}
	if a, ok := p.measured("heart.rate"); ok {
		d.heart = a.value
	}
	cited := make([]string, len(sources))
	for i, code := range sources {
		cited[i] = j.table.Cite(code)
	}
	d.Source = strings.Join(cited, "; ")
	return d
}

// Line is the count in one line: "Danger signs from published studies of colic: 3 of 4 seen, 1 not checked".
func (d DangerCount) Line() string {
	if d.first {
		return "A donkey that is dull or off its feed comes first"
	}
	line := fmt.Sprintf("Danger signs from published studies of %s: %d of %d seen", d.About, len(d.Seen), d.Of)
	if len(d.NotLooked) > 0 {
		line += fmt.Sprintf(", %d not checked", len(d.NotLooked))
	}
	return line
}

// Lines say which signs were seen and which were not checked, those beside the counted ones after them.
func (d DangerCount) Lines() []string {
	var out []string
	add := func(head string, names []DangerSign) {
		if len(names) > 0 {
			out = append(out, head+": "+words.Join(names))
		}
	}
	add("seen", d.Seen)
	add("not checked", d.NotLooked)
	add("seen beside them", d.Beside)
	add("beside them not checked", d.BesideOpen)
	return out
}

// urgency is the group of a horse of which the veterinarian is told, 3 the first: a donkey that is dull or off its feed;
// half of the danger signs or more seen; no count at all, as of a mule, a yearling or an injury, which can be worse than
// any few signs; fewer than half of the signs seen. The zero DangerCount is that of a horse without a count.
func (d DangerCount) urgency() int {
	switch {
	case d.first:
		return 3
	case d.Of == 0:
		return 1
	case 2*len(d.Seen) >= d.Of:
		return 2
	}
	return 0
}

// Before orders two horses of which the veterinarian is told: by urgency, then by danger signs seen, then by those not
// looked at, which can only add, then by the heart. Negative: d comes first.
func (d DangerCount) Before(o DangerCount) int {
	if n := o.urgency() - d.urgency(); n != 0 {
		return n
	}
	if n := len(o.Seen) - len(d.Seen); n != 0 {
		return n
	}
	if n := len(o.NotLooked) - len(d.NotLooked); n != 0 {
		return n
	}
	switch {
	case d.heart > o.heart:
		return -1
	case d.heart < o.heart:
		return 1
	}
	return 0
}
