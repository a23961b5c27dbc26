package notation

import (
	"fmt"
	"regexp"
	"strings"
)

// Hands is the unit of a height at the withers: 15.2 is 15 hands and 2 inches, a hand
// being 4 inches (NIST Special Publication 811, appendix B.6 has the inch). A height is
// kept in inches; the unit is a choice of the settings, in the place of Inch, and what a
// quantity in inches is shown in.
const Hands Unit = "hh"

const inchesPerHand = 4

// Lengths as people write them beside 75in and 193cm.
var (
	handsForm  = regexp.MustCompile(`^(\d{1,2})(?:[.,-](\d)(½|\.5)?)? ?(?:hh|h|hands?)$`)
	handsWords = regexp.MustCompile(`^(\d{1,2}) ?hands? (\d)(½|\.5)?(?: ?(?:in|inch|inches|"))?$`)
	dashForm   = regexp.MustCompile(`^(\d{2})-(\d)$`)
	feetForm   = regexp.MustCompile(`^(\d{1,2}) ?(?:ft|feet|foot|')(?: ?(\d{1,2})(?:( 1/2|½))? ?(?:in|inch|inches|"|'')?)?$`)
	feetPoint  = regexp.MustCompile(`^\d+[.,]\d+ ?(?:ft|feet|foot|')$`)
	fraction   = regexp.MustCompile(`^(\d+)(?: (1/4|1/2|3/4)|(¼|½|¾)) ?(in|inch|inches|")$`)
)

// readLength reads a length in hands, in feet and inches, or in quarters of an inch, as
// inches; false where the text is written another way. Errors are a *Refusal.
func readLength(clean string) (Quantity, bool, error) {
	text := strings.ToLower(clean)
	for _, form := range []*regexp.Regexp{handsForm, handsWords, dashForm} {
		if p := form.FindStringSubmatch(text); p != nil {
			half := len(p) > 3 && p[3] != ""
			q, err := handsOf(clean, p[1], p[2], half)
			return q, true, err
		}
	}
	if p := feetForm.FindStringSubmatch(text); p != nil {
		feet, inches := atoi(p[1]), atoi(p[2])
		if inches > 11 {
			return Quantity{}, true, &Refusal{Typed: clean, Why: "a foot has 12 inches: behind the feet stand 0 to 11"}
		}
		v := float64(12*feet + inches)
		if p[3] != "" {
			v += 0.5
		}
		return Quantity{v, Inch}, true, nil
	}
	if feetPoint.MatchString(text) {
		return Quantity{}, true, &Refusal{Typed: clean, Why: fmt.Sprintf("%s can be feet and inches, or tenths of a foot: write 6ft 3in, or inches", clean)}
	}
	if p := fraction.FindStringSubmatch(text); p != nil {
		part := map[string]float64{"1/4": 0.25, "¼": 0.25, "1/2": 0.5, "½": 0.5, "3/4": 0.75, "¾": 0.75}
		return Quantity{float64(atoi(p[1])) + part[p[2]+p[3]], Inch}, true, nil
	}
	return Quantity{}, false, nil
}

func handsOf(typed, hands, inches string, half bool) (Quantity, error) {
	in := atoi(inches)
	if in >= inchesPerHand {
		return Quantity{}, &Refusal{Typed: typed, Why: "a hand has 4 inches: behind the hands stands 0, 1, 2 or 3"}
	}
	v := float64(inchesPerHand*atoi(hands) + in)
	if half {
		v += 0.5
	}
	return Quantity{v, Inch}, nil
}

// bareHands is a height in hands without its unit, 15.2.
var bareHands = regexp.MustCompile(`^(\d{1,2})[.,]([0-3])$`)

// BareHands reads a number without a unit as a height in hands, 6 to 20; false where it
// cannot be one.
func BareHands(text string) (Quantity, bool) {
	p := bareHands.FindStringSubmatch(CleanLine(text, 40))
	if p == nil || atoi(p[1]) < 6 || atoi(p[1]) > 20 {
		return Quantity{}, false
	}
	q, err := handsOf(text, p[1], p[2], false)
	return q, err == nil
}

// inHands writes a height of so many inches in hands, "15.2 hh"; a half inch stays.
func inHands(inches float64) string {
	halves := int(max(inches, 0)*2 + 0.5)
	text := fmt.Sprintf("%d.%d", halves/2/inchesPerHand, halves/2%inchesPerHand)
	if halves%2 == 1 {
		text += "½"
	}
	return text + " " + string(Hands)
}
