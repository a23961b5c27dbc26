package intake

import (
	"regexp"
	"strings"

	"loosebox/exam"
)

// What people write above a column, in lower case and without signs; the trade's abbreviations are common practice.
func heads() map[string]string {
	out := map[string]string{}
	for means, words := range map[string]string{
		"horse name": "name|horse|horse name|horses name|horses|animal|animal name|patient|patient name|call name|barn name|stable name",
		"date":       "date|day|date seen|exam date|visit date|date of exam|date of visit|dt|seen|seen on|visit|date time|datetime|date and time|when|exam day",
		"time":       "time|time of day|hour|time seen|clock",
		"by":         "by|tech|technician|examiner|initials|init|seen by|examined by|staff|who|done by|recorded by|nurse|vet tech|examined|checked by",
		"owner":      "owner|client|owner name|client name",
		"place":      "yard|barn|stall|box|location|farm|stable|place|stall no|stall number|paddock",
		"chip":       "chip|microchip|chip no|chip number|transponder|microchip no|microchip number|chip id|chip nr",
		"birth":      "dob|born|birth|birth date|birthdate|date of birth|foaled|yob|year of birth|birth year|foaling date",
		"age":        "age|age yrs|age years|age y|age in years",
		"sex":        "sex|gender",
		"kind":       "kind|species|animal type|kind of animal|type",
		"breed":      "breed",
		"colour":     "colour|color|coat color|coat colour",
		"reason":     "reason|complaint|presenting complaint|why seen|reason for visit|purpose|cc",
		"at rest":    "at rest|rest|resting",
		"step":       "test|parameter|item|measurement|what|measure|vital|vital sign|check|finding name",
		"site":       "site|side|where|quadrant",
		"value":      "value|result|reading|finding|measured|results",
		"unit":       "unit|units|uom",
		"note":       "note|notes|remark|remarks|comment|comments|other|observations|anything else",
		"ignore":     "id|no|nr|number|invoice|invoice no|price|amount|cost|fee|paid|row|row no|record no|bill|billed",

		"temp.rectal":       "temp|temperature|t|rectal temp|rectal temperature|bt|body temp|temp rectal|body temperature|rectal",
		"heart.rate":        "hr|heart rate|pulse|p|heart|pulse rate|bpm|heartrate|heart beats",
		"breath.rate":       "rr|resp|respiration|r|resp rate|respiratory rate|breathing|breaths|breathing rate|respirations|breath rate|respiratory",
		"weight.body":       "wt|weight|bw|body weight|bodyweight|body wt|weight tape|mass|est weight|wt tape",
		"gum.colour":        "mm|mms|mucous membranes|mucous membrane|gums|mmc|membranes|gum color|gum colour|mm color|mm colour|mucosa|gum",
		"gum.refill":        "crt|refill|cap refill|capillary refill|capillary refill time|gum refill",
		"gum.moisture":      "mm moisture|gum moisture|gums moisture|moisture",
		"gut.sounds":        "gut|gi|gut sounds|git|borborygmi|bowel sounds|gs|gi sounds|gut motility|motility|gut sound|bowels",
		"manure":            "manure|feces|faeces|droppings|poop|fecal|dung|manure output",
		"urine":             "urine|urination",
		"demeanour":         "attitude|mentation|demeanor|demeanour|behavior|behaviour|mood|alertness|att",
		"condition.score":   "bcs|body condition|condition|condition score|body condition score",
		"limb.digitalpulse": "dp|digital pulse|digital pulses|dps|dig pulse|dig pulses",
		"hoof.heat":         "hoof heat|feet heat|hoof temp|heat in feet|hooves|hoof",
		"skin.tent":         "skin tent|turgor|skin turgor|tent|skin pinch",
		"pain.grimace":      "grimace|grimace scale|grimace score",
		"pain.signs":        "pain|pain signs|colic signs|signs of pain",
		"cough":             "cough|coughing",
		"nose.discharge":    "nose|nasal|nasal discharge|nostril|nostrils|nose discharge",
		"eye.look":          "eye|eyes|eye discharge",
		"lung.sounds":       "lungs|lung sounds|lung|auscultation|chest",
		"heart.murmur":      "murmur|heart murmur",
		"heart.rhythm":      "rhythm|heart rhythm",
		"jugular.fill":      "jugular|jug|jug fill|jugular fill|jugular filling",
		"pulse.strength":    "pulse quality|pulse strength",
		"limb.look":         "legs|limbs|limb|leg",
		"skin.look":         "skin|coat|skin and coat",
		"mouth.look":        "mouth|teeth",
		"node.jaw":          "lymph nodes|nodes|jaw nodes|submandibular|ln|lymph node",
		"gait.look":         "gait|walk|soundness|lameness",
		"belly.distension":  "belly|abdomen|abdominal distension|distension|abdominal distention",
		"posture":           "posture|stance",
		"navel":             "navel|umbilicus",
		tprMeans:            "tpr|t p r|vitals",
	} {
		for _, w := range strings.Split(words, "|") {
			out[w] = means
		}
	}
	return out
}

// siteWords are how people name sites above a column or beside a test.
func siteWords() map[string]exam.Site {
	return map[string]exam.Site{
		"lu": exam.LeftUpper, "ul": exam.LeftUpper, "luq": exam.LeftUpper, "left upper": exam.LeftUpper, "upper left": exam.LeftUpper, "left dorsal": exam.LeftUpper,
		"ll": exam.LeftLower, "llq": exam.LeftLower, "left lower": exam.LeftLower, "lower left": exam.LeftLower, "left ventral": exam.LeftLower,
		"ru": exam.RightUpper, "ur": exam.RightUpper, "ruq": exam.RightUpper, "right upper": exam.RightUpper, "upper right": exam.RightUpper, "right dorsal": exam.RightUpper,
		"rl": exam.RightLower, "lr": exam.RightLower, "rlq": exam.RightLower, "right lower": exam.RightLower, "lower right": exam.RightLower, "right ventral": exam.RightLower,
		"lf": exam.LeftFore, "left fore": exam.LeftFore, "left front": exam.LeftFore, "rf": exam.RightFore, "right fore": exam.RightFore, "right front": exam.RightFore,
		"lh": exam.LeftHind, "left hind": exam.LeftHind, "rh": exam.RightHind, "right hind": exam.RightHind,
		"left": exam.Left, "l": exam.Left, "os": exam.Left, "right": exam.Right, "r": exam.Right, "od": exam.Right,
		"all": exam.Overall, "overall": exam.Overall, "all four": exam.Overall, "all quadrants": exam.Overall, "x4": exam.Overall, "all 4": exam.Overall,
	}
}

var (
	headMarks = strings.NewReplacer("'", "", "’", "", "`", "", "/", " ")
	headSigns = regexp.MustCompile(`[^a-z0-9/°%]+`)
	headUnit  = regexp.MustCompile(`(?:^|[ (\[/°])(c|f|celsius|fahrenheit|kgs?|lbs?|pounds?|kilos?|/ ?min|bpm|s|secs?|seconds?|per min|cm|in|inches)[)\]. ]*$`)
)

// namedHead is what the name of a column, or of a test, says: what it means as a map has it, and its unit. Empty where nothing
// is known of it.
func namedHead(steps *exam.Steps, known map[string]string, name string) (means, unit string) {
	lower := strings.ToLower(strings.TrimSpace(name))
	if means := namedSeveral(steps, known, lower); means != "" {
		return means, ""
	}
	return namedOne(steps, known, lower)
}

// namedOne is namedHead of a name that is of one thing, in lower case.
func namedOne(steps *exam.Steps, known map[string]string, lower string) (means, unit string) {
	if m := headUnit.FindStringSubmatchIndex(lower); m != nil && m[2] > 0 {
		unit = lower[m[2]:m[3]]
		if means, _ := namedPlain(steps, known, strings.TrimRight(lower[:m[2]], " ([/°")); means != "" {
			return means, unit
		}
	}
	if i := strings.IndexAny(lower, "(["); i > 0 { // what stands in brackets explains
		if means, _ := namedPlain(steps, known, lower[:i]); means != "" {
			return means, unit
		}
	}
	means, _ = namedPlain(steps, known, lower)
	return means, ""
}

func namedPlain(steps *exam.Steps, known map[string]string, lower string) (means string, site exam.Site) {
	if p, wrong := readPlace(steps, lower); wrong == "" {
		return placeWords(p), p.site
	}
	words := strings.Fields(headSigns.ReplaceAllString(headMarks.Replace(lower), " "))
	if len(words) == 0 {
		return "", ""
	}
	if means, ok := known[strings.Join(words, " ")]; ok {
		return withSite(steps, means, exam.NoSite), ""
	}
	for n := 2; n >= 1; n-- { // a site at either end
		if len(words) <= n {
			continue
		}
		for _, cut := range [][2][]string{{words[:len(words)-n], words[len(words)-n:]}, {words[n:], words[:n]}} {
			site, ok := siteWords()[strings.Join(cut[1], " ")]
			means, is := known[strings.Join(cut[0], " ")]
			if ok && is {
				if got := withSite(steps, means, site); got != "" {
					return got, site
				}
			}
		}
	}
	return "", ""
}

// withSite is the step of a name at a site; at all of its sites where none is named and one answer for all is not taken.
func withSite(steps *exam.Steps, means string, site exam.Site) string {
	s, ok := steps.ByID(exam.StepID(means))
	switch {
	case !ok && site == exam.NoSite:
		return means
	case !ok:
		return ""
	case site == exam.NoSite && len(s.Sites) > 0 && !s.OneForAll:
		var all []string
		for _, own := range s.Sites {
			all = append(all, means+":"+string(own))
		}
		return strings.Join(all, ", ")
	case site == exam.NoSite || site == exam.Overall && s.OneForAll:
		return means
	case s.HasSite(site):
		return means + ":" + string(site)
	}
	return ""
}
