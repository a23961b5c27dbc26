package procedure

import (
	"strings"

	"loosebox/exam"
	"loosebox/ranges"
)

// Stage is a part of a procedure where a caution belongs.
type Stage string

// The stages.
const (
	AtInjection Stage = "injection"
	AtVein      Stage = "injection into a vein"
	AtDraw      Stage = "blood draw"
	AtNeedleOut Stage = "needle out"
	AtWatch     Stage = "watch"
)

// Caution is a caution of the trade in this program's own words. It is shown in
// full once a visit, afterwards as one line; neither is ever more than two lines
// of 72 columns.
type Caution struct {
	Key  string
	Full []string `words:"full"` // one or two lines
	Line string   `words:"line"` // what stands there afterwards
	// Steps and Stages say where it belongs.
	Steps  []exam.StepID
	Stages []Stage
	// When makes it show only for a visit in which it holds; nil: always.
	When     func(exam.Visit) bool
	Source   string
	Evidence exam.Evidence
}

// Cautions lists every caution, in the order in which they are shown where
// several belong to one place.
func Cautions() []Caution { return cautions() }

func builtInCautions() []Caution {
	return []Caution{
		{
			Key: "nervous signs",
			Full: []string{
				"Nervous signs, cause unknown: no hands in the mouth; gloves; cover eyes",
				"and mouth. List everybody who touched it. The veterinarian comes first.",
			},
			Line:  "Nervous signs: no hands in the mouth, gloves, list who touched it.",
			Steps: []exam.StepID{"mouth.look", "gum.colour", "gum.moisture", "gum.refill", "gait.look", "demeanour"}, Stages: []Stage{AtInjection, AtDraw},
			When: nervous, Source: "UC Davis, horses and zoonoses; hands out of the mouth and the list from memory", Evidence: ranges.FromMemory,
		},
		{
			Key: "approach",
			Full: []string{
				"Come to the shoulder at an angle, speaking. It cannot see straight ahead",
				"under its forehead, nor behind itself.",
			},
			Line:  "Come to the shoulder, speaking.",
			Steps: []exam.StepID{"approach"}, Stages: []Stage{AtInjection, AtDraw},
			Source: "4-H Horse Project 47, and other handling lists", Evidence: ranges.CommonPractice,
		},
		{
			Key: "behind",
			Full: []string{
				"Passing behind: touching, a hand across the rump, or well out of",
				"reach of a kick. Nothing in between.",
			},
			Line:     "Behind: touching, or well out of reach.",
			Steps:    []exam.StepID{"temp.rectal", "manure", "udder.sheath", "gut.sounds"},
			Source:   "handling lists; why: a hind kick caused 49 % of the worst injuries of 620 British equine vets (Parkin, Vet Rec 2018)",
			Evidence: ranges.CommonPractice,
		},
		{
			Key: "handler",
			Full: []string{
				"The handler stands on your side and turns the head towards you both, so",
				"that the quarters swing away. The horse is held, not tied.",
			},
			Line:  "Handler on your side; held, not tied.",
			Steps: []exam.StepID{"approach"}, Stages: []Stage{AtInjection, AtVein, AtDraw},
			Source: "equisearch.com, holding a horse; ofhorse.com; AQHA, horse safety rules", Evidence: ranges.CommonPractice,
		},
		{
			Key:    "limbs",
			Full:   []string{"On your feet: never crouch, kneel or sit; head out of kicking range.", "Never go under neck or belly."},
			Line:   "Stay on your feet; never crouch, kneel or sit.",
			Steps:  []exam.StepID{"limb.look", "limb.warmth", "limb.digitalpulse", "hoof.heat", "weight.body"},
			Source: "handling lists: all forbid kneeling and sitting, some allow crouching; the stricter one is held", Evidence: ranges.CommonPractice,
		},
		{
			Key:    "mouth",
			Full:   []string{"Not in front of a painful mouth: ask first, stand beside the head,", "fingers never between the teeth."},
			Line:   "Beside the head; fingers out from between the teeth.",
			Steps:  []exam.StepID{"mouth.look", "gum.colour", "gum.moisture", "gum.refill"},
			Source: "common practice", Evidence: ranges.CommonPractice,
		},
		{
			Key:   "foal",
			Full:  []string{"Never between mare and foal. Somebody holds the mare where she sees it;", "the quietest mare kicks for her foal."},
			Line:  "Never between mare and foal.",
			Steps: []exam.StepID{"approach", "navel"}, Stages: []Stage{AtInjection, AtDraw},
			When: func(v exam.Visit) bool { return v.Class().Young }, Source: "common practice", Evidence: ranges.CommonPractice,
		},
		{
			Key:    "gloves",
			Full:   []string{"Gloves for wounds, crusts, discharge, loose manure and foaling. Wash", "your hands before the next horse."},
			Line:   "Gloves, and hands washed before the next horse.",
			Steps:  []exam.StepID{"skin.look", "nose.discharge", "manure", "navel", "udder.sheath"},
			Source: "Washington State University, zoonoses of horses; UC Davis, safety services", Evidence: ranges.Published,
		},
		{
			Key:    "needles",
			Full:   []string{"Sharps box at the horse. Never recap, bend or pass on a needle,", "or carry it open; no cap in the mouth. Live vaccine: syringe and all."},
			Line:   "Do not recap: straight into the sharps box.",
			Stages: []Stage{AtInjection, AtVein, AtDraw, AtNeedleOut},
			Source: "cvmcatalog.lmunet.edu, protective actions", Evidence: ranges.Published,
		},
		{
			Key:    "own skin",
			Full:   []string{"Pricked yourself? Let it bleed, wash it, take the label with", "you: with some products a physician is needed at once."},
			Line:   "Pricked? Wash it, take the label, see a physician.",
			Stages: []Stage{AtNeedleOut},
			Source: "from memory; live anthrax vaccine: AAEP, anthrax", Evidence: ranges.FromMemory,
		},
		{
			Key:    "sedated",
			Full:   []string{"A sedated horse still kicks, fast and without a warning."},
			Line:   "A sedated horse still kicks.",
			Stages: []Stage{AtWatch, AtVein},
			Source: "ofhorse.com, holding your horse", Evidence: ranges.CommonPractice,
		},
	}
}

// nervous says that a visit has a sign of a disturbed nervous system.
func nervous(v exam.Visit) bool {
	for _, f := range v.Findings {
		if f.Step == "demeanour" && (f.Value.Has("seizure") || f.Value.Has("unresponsive")) || f.Step == "gait.look" && f.Value.Has("sways") {
			return true
		}
	}
	reason := strings.ToLower(v.Reason)
	return strings.Contains(reason, "nervous") || strings.Contains(reason, "stagger") || strings.Contains(reason, "rabies suspect")
}

// AtStep lists the cautions of a step in a visit.
func AtStep(v exam.Visit, step exam.StepID) []Caution {
	return pick(v, func(c Caution) bool {
		for _, s := range c.Steps {
			if s == step {
				return true
			}
		}
		return false
	})
}

// At lists the cautions of a part of a procedure in a visit.
func At(v exam.Visit, m Stage) []Caution {
	return pick(v, func(c Caution) bool {
		for _, own := range c.Stages {
			if own == m {
				return true
			}
		}
		return false
	})
}

func pick(v exam.Visit, wanted func(Caution) bool) []Caution {
	var out []Caution
	for _, c := range Cautions() {
		if wanted(c) && (c.When == nil || c.When(v)) {
			out = append(out, c)
		}
	}
	return out
}

// Shown is which cautions were shown in full in a visit.
type Shown map[string]bool

// Lines are the lines to show for some cautions, at most two: the first caution
// not yet shown in full, else the lines of the first two. All of them are one key
// away. Shown is changed.
func (s Shown) Lines(list []Caution) []string {
	for _, c := range list {
		if !s[c.Key] {
			s[c.Key] = true
			return append([]string(nil), c.Full...)
		}
	}
	var out []string
	for _, c := range list[:min(len(list), 2)] {
		out = append(out, c.Line)
	}
	return out
}

// InSight is what stays in sight on every screen of a visit: what this horse's findings call for before anything else, then
// its own handling cautions. A visit without an identity has no findings yet.
func InSight(v exam.Visit, h exam.Horse) []string {
	var out []string
	for _, c := range Cautions() {
		if c.When != nil && v.ID != "" && c.When(v) {
			out = append(out, strings.TrimSuffix(c.Line, "."))
		}
	}
	return append(out, h.Cautions...)
}
