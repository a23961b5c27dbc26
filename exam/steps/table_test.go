package steps

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"loosebox/exam"
	"loosebox/ranges"
)

// contract is the list of step identities that scripts and other programs rely
// on, with their sites; "or overall" is the last column. The identities are
// stable for ever; those under "added" came with this table.
func contract() map[exam.StepID]string {
	const none, both = "", "left,right"
	const four, limb = "left upper,left lower,right upper,right lower", "left fore,right fore,left hind,right hind"
	return map[exam.StepID]string{
		"demeanour": none, "posture": none, "condition.score": none, "temp.rectal": none,
		"weight.body": none, "heart.rate": none, "heart.rhythm": none, "heart.murmur": both,
		"breath.rate": none, "breath.effort": none, "lung.sounds": four, "gut.sounds": four + ",overall",
		"belly.distension": none, "skin.look": none, "skin.tent": none, "eye.look": both,
		"nose.discharge": both, "node.jaw": none, "mouth.look": none, "gum.colour": none,
		"gum.moisture": none, "gum.refill": none, "jugular.fill": none, "pulse.strength": none,
		"limb.look": limb + ",overall", "limb.warmth": limb + ",overall",
		"limb.digitalpulse": limb + ",overall", "hoof.heat": limb + ",overall",
		"pain.signs": none, "pain.grimace": none, "manure": none, "urine": none,
		"udder.sheath": none, "navel": none, "note": none,
		// added
		"approach": none, "cough": none, "gait.look": none,
		"foal.breast": none, "foal.suck": none, "foal.stand": none, "foal.nurse": none, "foal.afterbirth": none,
		"foal.meconium": none, "foal.urine": none, "neck.crest": none, "neck.girth": none, "height.withers": none,
	}
}

func TestEveryIdentityOfTheContractOnce(t *testing.T) {
	seen := map[exam.StepID]int{}
	for _, s := range Table().All() {
		seen[s.ID]++
		want, known := contract()[s.ID]
		if !assert.True(t, known, "%s is not in the contract", s.ID) {
			continue
		}
		var sites []string
		for _, site := range s.Sites {
			sites = append(sites, string(site))
		}
		if s.OneForAll {
			sites = append(sites, "overall")
		}
		assert.Equal(t, want, strings.Join(sites, ","), "sites of %s", s.ID)
	}
	for id := range contract() {
		assert.Equal(t, 1, seen[id], "%s in the table", id)
	}
}

// TestRecordOrder holds the order of the body systems in a record; the free
// note closes it.
func TestRecordOrder(t *testing.T) {
	all := Table().All()
	require.Equal(t, exam.StepID("note"), all[len(all)-1].ID)
	last := -1
	for _, s := range all[:len(all)-1] {
		at := slices.Index(exam.Systems(), s.System)
		require.GreaterOrEqual(t, at, 0, "system of %s", s.ID)
		assert.GreaterOrEqual(t, at, last, "%s comes after a later system", s.ID)
		last = at
	}
}

func TestTableIsMadeAnew(t *testing.T) {
	first := Table().All()
	first[0].Choices[0].Words = "changed"
	first[0].How[0] = "changed"
	again := Table().All()
	assert.NotEqual(t, "changed", again[0].Choices[0].Words)
	assert.NotEqual(t, "changed", again[0].How[0])
}

func TestKindsAndMeasures(t *testing.T) {
	kinds := map[exam.StepKind]bool{}
	measured := map[ranges.Measure]int{}
	for _, s := range Table().All() {
		kinds[s.Kind] = true
		if s.Range == "" {
			continue
		}
		measured[s.Range]++
		assert.True(t, s.Range.Valid(), "range of %s", s.ID)
		assert.Equal(t, string(s.ID), string(s.Range), "a measure bears its step's identity")
		assert.Contains(t, s.Range.Units(), ranges.Unit(s.Unit), "unit of %s", s.ID)
		for _, u := range s.Units {
			assert.Contains(t, s.Range.Units(), ranges.Unit(u), "unit of %s", s.ID)
		}
	}
	for _, k := range exam.StepKinds() {
		assert.True(t, kinds[k], "a step of kind %s", k)
	}
	for _, m := range ranges.Measures() {
		assert.Equal(t, 1, measured[m], "a step for the measure %s", m)
	}
}

// The one key for an area gives these answers and no others: never gut, lungs, murmur, rhythm, pulse, warmth, hoof heat, a
// vein that is held off, or anything measured (issue of the aisle, point 3).
func TestOnlyWhatIsSeenLooksUsual(t *testing.T) {
	var list []string
	for _, s := range Table().All() {
		if s.LooksUsual() {
			list = append(list, string(s.ID))
		}
	}
	assert.ElementsMatch(t, []string{
		"demeanour", "posture", "breath.effort", "pain.signs", "gait.look", "urine", "manure", "belly.distension",
		"eye.look", "nose.discharge", "mouth.look", "gum.colour", "udder.sheath",
	}, list)
}
