package steps

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/ranges"
)

func TestRoutinesAreWhole(t *testing.T) {
	table, names := Table(), []string{}
	for _, r := range Routines() {
		names = append(names, r.Name)
		assert.Regexp(t, regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`), r.Name)
		fits(t, "title", r.Title, 30)
		fits(t, "about", r.About, 72)
		assert.False(t, r.Own)
		seen := map[exam.Key]bool{}
		require.NotEmpty(t, r.Asks)
		assert.NotEmpty(t, r.Asks[0].Heading, "the first ask says where one stands")
		for _, a := range r.Asks {
			s, ok := table.ByID(a.Step)
			require.True(t, ok, "%s asks %s", r.Name, a.Step)
			require.NotEmpty(t, a.Sites, "%s asks %s", r.Name, a.Step)
			if a.Heading != "" {
				fits(t, "heading", a.Heading, 18)
			}
			for _, k := range a.Keys() {
				assert.True(t, s.HasSite(k.Site), "%s: %s at %q", r.Name, k.Step, k.Site)
				assert.False(t, seen[k], "%s: %v twice", r.Name, k)
				seen[k] = true
			}
		}
		for k := range seen {
			other, paired := strings.CutPrefix(string(k.Site), string(exam.Left))
			assert.True(t, !paired || seen[exam.Key{Step: k.Step, Site: exam.Right + exam.Site(other)}], "%s: %v without the other side", r.Name, k)
			other, paired = strings.CutPrefix(string(k.Site), string(exam.Right))
			assert.True(t, !paired || seen[exam.Key{Step: k.Step, Site: exam.Left + exam.Site(other)}], "%s: %v without the other side", r.Name, k)
		}
	}
	assert.Equal(t, []string{
		"full-exam", "tpr-recheck", "five-minute-check", "colic-check", "before-vaccination", "newborn-foal", "foal-and-youngster", "weight-and-condition",
		"heart-first", "head-to-tail",
	}, names)
	_, ok := Find(Routines(), Default)
	assert.True(t, ok)
	_, ok = Find(Routines(), "no-such")
	assert.False(t, ok)
}

// places lists a routine's places in order.
func places(r exam.Routine) []exam.Key {
	var keys []exam.Key
	for _, a := range r.Asks {
		keys = append(keys, a.Keys()...)
	}
	return keys
}

func TestFullExamAsksEverything(t *testing.T) {
	r, _ := Find(Routines(), Default)
	have := places(r)
	for _, name := range []string{HeartFirst, HeadToTail} {
		other, ok := Find(Routines(), name)
		require.True(t, ok, name)
		assert.ElementsMatch(t, have, places(other), "%s is another order of the same exam", name)
	}
	for _, s := range Table().All() {
		if s.ID == "height.withers" || s.ID == "neck.girth" { // for the tape, where condition is followed
			continue
		}
		sites := s.Sites
		if len(sites) == 0 {
			sites = []exam.Site{exam.NoSite}
		}
		for _, site := range sites {
			assert.Contains(t, have, exam.Key{Step: s.ID, Site: site})
		}
	}
}

// at is the place of a step's first ask, -1 where it is not asked.
func at(r exam.Routine, id exam.StepID) int {
	return slices.IndexFunc(r.Asks, func(a exam.Ask) bool { return a.Step == id })
}

// TestOrderOfEveryRoutine: the horse is met first; breathing is counted from
// outside before it is handled (GUELPH, COURSE), so before the temperature;
// the exam begins at the tail, so temperature before heart (common practice), but where the name of the order says else.
func TestOrderOfEveryRoutine(t *testing.T) {
	for _, r := range Routines() {
		assert.Zero(t, at(r, "approach"), r.Name)
		assert.Equal(t, len(r.Asks)-1, at(r, "note"), r.Name)
		handled := []exam.StepID{"temp.rectal", "weight.body", "heart.rate", "gut.sounds", "gum.colour", "limb.look"}
		for _, id := range handled {
			if i := at(r, id); i >= 0 {
				assert.Less(t, at(r, "breath.rate"), i, "%s: breathing before %s", r.Name, id)
				if r.Name != HeartFirst && r.Name != HeadToTail {
					assert.LessOrEqual(t, at(r, "temp.rectal"), i, "%s: temperature before %s", r.Name, id)
				}
			}
		}
	}
}

// headings are where the examiner stands, one after the other.
func headings(r exam.Routine) []string {
	var out []string
	for _, a := range r.Asks {
		if a.Heading != "" {
			out = append(out, a.Heading)
		}
	}
	return out
}

// TestFullExamGoesRoundOnce: tail, left side, behind, right side, head and
// neck, each leg once; a side is not left and come back to. The order is common practice.
func TestFullExamGoesRoundOnce(t *testing.T) {
	legs := []string{"left fore", "left hind", "right hind", "right fore", "under the belly", "at the end"}
	for name, body := range map[string][]string{
		Default:    {"at the tail", "left side", "round behind", "right side", "head and neck"},
		HeartFirst: {"left side", "at the tail", "round behind", "right side", "head and neck", "at walk"},
		HeadToTail: {"head and neck", "left side", "at the tail", "round behind", "right side"},
	} {
		r, _ := Find(Routines(), name)
		assert.Equal(t, slices.Concat([]string{"at the door", "from a distance"}, body, legs), headings(r), name)
	}
	r, _ := Find(Routines(), Default)
	order := []exam.StepID{
		"demeanour", "breath.rate", "temp.rectal", "weight.body", "heart.rate", "lung.sounds",
		"gut.sounds", "skin.look", "eye.look", "nose.discharge", "node.jaw", "gum.colour",
		"gum.refill", "skin.tent", "limb.look", "limb.digitalpulse",
	}
	for i := 1; i < len(order); i++ {
		assert.Less(t, at(r, order[i-1]), at(r, order[i]), "%s before %s", order[i-1], order[i])
	}
	gut := slices.IndexFunc(r.Asks, func(a exam.Ask) bool { return slices.Contains(a.Sites, exam.RightUpper) })
	assert.Greater(t, gut, at(r, "belly.distension"), "the right side comes after walking round behind")
}

// TestHeartFirstDisturbsNothingBeforeTheHeart: no thermometer, no hand but the stethoscope's before heart and breathing.
func TestHeartFirstDisturbsNothingBeforeTheHeart(t *testing.T) {
	r, _ := Find(Routines(), HeartFirst)
	heart, table := at(r, "heart.rate"), Table()
	assert.Less(t, at(r, "breath.rate"), heart)
	for _, a := range r.Asks[1:heart] { // behind the approach
		s, _ := table.ByID(a.Step)
		assert.True(t, s.FromOutside || s.ID == "pain.signs" || strings.HasPrefix(string(s.ID), "foal."), "%s is handled before the heart", a.Step)
	}
}

// TestEachLegIsVisitedOnce: a leg that was left is never come back to, and the way is round the horse: LF, LH, RH,
// RF. Nothing dirty comes before the gums.
func TestEachLegIsVisitedOnce(t *testing.T) {
	for _, r := range Routines() {
		var way []exam.Site
		for _, k := range places(r) {
			if slices.Contains(feet(), k.Site) && (len(way) == 0 || way[len(way)-1] != k.Site) {
				way = append(way, k.Site)
			}
		}
		if len(way) > 0 {
			assert.Equal(t, []exam.Site{exam.LeftFore, exam.LeftHind, exam.RightHind, exam.RightFore}, way, r.Name)
		}
		if i := at(r, "udder.sheath"); i >= 0 {
			for _, clean := range []exam.StepID{"eye.look", "nose.discharge", "mouth.look", "gum.colour", "gum.moisture", "gum.refill"} {
				assert.Less(t, at(r, clean), i, "%s: %s before sheath or udder", r.Name, clean)
			}
		}
	}
}

func TestNavelIsLeftOutOfAnAdult(t *testing.T) {
	r, _ := Find(Routines(), Default)
	day := time.Date(2026, 5, 4, 8, 0, 0, 0, time.UTC)
	adult := exam.ClassOf(exam.Horse{Kind: exam.AnimalHorse, Birth: exam.Birth{Precision: exam.BornAdult}}, day)
	foal := exam.ClassOf(exam.Horse{Kind: exam.AnimalHorse, Birth: exam.Birth{Precision: exam.BornFoal}}, day)
	assert.Equal(t, -1, at(r.For(adult, Table()), "navel"))
	assert.GreaterOrEqual(t, at(r.For(foal, Table()), "navel"), 0)
}

// An ill newborn is asked the three danger signs of FOAL25 (J Vet Intern Med 2025, 1,068 foals): a weak pulse, cold legs, a seizure.
func TestTheNewbornIsAskedItsDangerSigns(t *testing.T) {
	r, ok := Find(Routines(), "newborn-foal")
	require.True(t, ok)
	table := Table()
	r = r.For(exam.Class{Name: ranges.FoalFirstDay, Young: true}, table)
	for step, key := range map[exam.StepID]string{"pulse.strength": "weak", "limb.warmth": "cold", "demeanour": "seizure"} {
		assert.True(t, slices.ContainsFunc(r.Asks, func(a exam.Ask) bool { return a.Step == step }), step)
		s, _ := table.ByID(step)
		_, known := s.Choice(key)
		assert.True(t, known, "%s %s", step, key)
	}
}

// The short check asks what is told of a horse that is looked at every half hour, and nothing else but who holds it.
func TestTheFiveMinuteCheckAsksTheVitalSignsAndNoMore(t *testing.T) {
	r, ok := Find(Routines(), FiveMinutes)
	require.True(t, ok)
	var asked []exam.StepID
	for _, a := range r.Asks {
		if !slices.Contains(asked, a.Step) {
			asked = append(asked, a.Step)
		}
	}
	assert.ElementsMatch(t, []exam.StepID{
		"approach", "demeanour", "pain.signs", "breath.rate", "temp.rectal", "heart.rate",
		"gut.sounds", "gum.colour", "gum.refill", "limb.digitalpulse", "note",
	}, asked)
	assert.Len(t, places(r), 9+4+4, "gut in four quadrants, four digital pulses")
}
