package intake

import (
	"strings"

	"loosebox/exam"
)

// lexeme is what people write in a cell, and the answer that it stands for. The abbreviations are common practice of the
// trade; each is shown with what it becomes before anything is taken.
type lexeme struct{ becomes, words string }

// usualWords stand for the usual answer of any step that has one.
const usualWords = "n|nl|wnl|nad|normal|ok|okay|good|fine|unremarkable|nsf|✓|√|within normal limits|no abnormalities|nothing abnormal|norm|(n)"

func lexicon(id exam.StepID) []lexeme {
	switch id {
	case "gum.colour":
		return []lexeme{
			{"pink", "p|pk|pink moist|pink/moist|p/m|pink and moist|salmon"},
			{"palepink", "pp|pale pink|light pink|lt pink"},
			{"pale", "pale|pl"},
			{"white", "w|wh|blanched"},
			{"bright", "inj|injected|red|bright red|hyperemic|hyperaemic"},
			{"brick", "brick|brick red|dark red|dark"},
			{"purple", "cyanotic|blue|muddy|grey|gray|purple"},
			{"toxicline", "toxic line|tox line|toxic|toxic ring"},
			{"yellow", "icteric|jaundiced|ict"},
		}
	case "gum.moisture":
		return []lexeme{{"moist", "m|moist|wet"}, {"tacky", "t|tacky|sl tacky"}, {"dry", "d|dry"}}
	case "gut.sounds":
		return []lexeme{
			{"none", "0|-|absent|abs|neg|negative|silent|none|quiet/absent"},
			{"reduced", "+|1+|hypo|decreased|dec|↓|reduced|less|hypomotile|low"},
			{"heard", "++|2+|present|pres|heard|+/+|yes"},
			{"increased", "+++|3+|++++|hyper|increased|inc|↑|loud|hypermotile"},
		}
	case "demeanour":
		return []lexeme{
			{"bright", "bar|b.a.r.|bright|alert|bright alert|happy"},
			{"quiet", "qar|q.a.r.|quiet"},
			{"dull", "dull|depressed|lethargic|dep|d|flat"},
			{"restless", "anxious|restless|agitated"},
			{"distressed", "distressed|violent"},
			{"down", "down|recumbent"},
		}
	case "manure":
		return []lexeme{
			{"balls", "formed|balls|f|yes|y|passed|normal formed"},
			{"soft", "soft|s"},
			{"cowpat", "cowpat|cow pat|cow pie|cowpie|loose|cow patty"},
			{"watery", "diarrhea|diarrhoea|watery|liquid|d+|scours"},
			{"dry", "dry|hard|dry balls"},
			{"notseen", "not seen|ns|none seen"},
			{"none", "no manure"},
		}
	case "urine":
		return []lexeme{{"yellow", "yes|y|clear|passed"}, {"notseen", "not seen|ns|none seen"}, {"dark", "dark"}, {"red", "red|bloody"}}
	case "limb.digitalpulse":
		return []lexeme{{"none", "0|absent"}, {"faint", "faint|wnl|n|normal|1+|+"}, {"easy", "easy|2+|++|palpable|mild"}, {"strong", "strong|increased|inc|3+|+++|↑"}, {"bounding", "bounding|4+|++++"}}
	case "hoof.heat":
		return []lexeme{{"even", "cool|n|normal|no|0"}, {"warm", "warm|w|+"}, {"hot", "hot|h|++"}}
	case "limb.warmth":
		return []lexeme{{"even", "n|normal"}, {"cool", "cool|c"}, {"cold", "cold"}, {"warm", "warm"}}
	case "nose.discharge":
		return []lexeme{{"none", "none|no|0|-|neg|nil"}, {"clear", "serous|clear"}, {"mucus", "mucoid|mucous|white"}, {"pus", "mucopurulent|purulent|pus|yellow"}, {"blood", "blood|epistaxis"}}
	case "cough":
		return []lexeme{{"none", "no|none|0|-|neg|nil"}, {"some", "yes|y|+|occasional|occ"}, {"fits", "++|often|frequent"}}
	case "pain.signs":
		return []lexeme{{"none", "none|no|0|-|neg|nil|comfortable"}, {"mild", "mild|slight|1"}, {"flank", "flank watching|looks at flank"}, {"paws", "pawing|paws"}, {"rolls", "rolling|rolls"}, {"severe", "severe"}}
	case "heart.murmur":
		return []lexeme{{"0", "no|none|-|neg|nil"}, {"1", "1/6|i/vi"}, {"2", "2/6|ii/vi"}, {"3", "3/6|iii/vi"}, {"4", "4/6|iv/vi"}, {"5", "5/6|v/vi"}, {"6", "6/6|vi/vi"}}
	case "heart.rhythm":
		return []lexeme{{"regular", "reg|nsr|regular|sinus"}, {"irregular", "irreg|irregular|arrhythmia"}}
	case "lung.sounds":
		return []lexeme{{"soft", "clear|cl"}, {"harsh", "harsh"}, {"crackles", "crackles"}, {"wheezes", "wheeze|wheezes"}}
	case "eye.look":
		return []lexeme{{"clear", "clear|bright"}, {"tears", "tearing|epiphora"}, {"discharge", "discharge"}}
	case "gait.look":
		return []lexeme{{"even", "sound"}, {"lame", "lame"}, {"stiff", "stiff"}}
	case "jugular.fill":
		return []lexeme{{"prompt", "prompt|fast|quick"}, {"slow", "slow|delayed"}}
	}
	return nil
}

// roleWords are words of a column that says who the animal is.
func roleWords(r role) []lexeme {
	switch {
	case r == roleKind:
		return []lexeme{
			{"horse", "tb|qh|wb|thoroughbred|quarter horse|warmblood|arab|arabian|horses|equine|h|standardbred|sb"},
			{"pony", "ponies|p|welsh|shetland"},
			{"miniature", "mini|minis|miniature horse"},
			{"draft", "draught|heavy|percheron|clydesdale|shire|belgian"},
			{"donkey", "ass|donk|jenny|jack|burro"},
			{"mule", "hinny|molly"},
		}
	case r == roleSex:
		return []lexeme{{"mare", "f|female|fem"}, {"gelding", "g|geld|mc|gelded|mn"}, {"stallion", "s|stud|entire|intact male"}}
	}
	return nil
}

func found1(list []lexeme, text string) (string, bool) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, l := range list {
		for _, w := range strings.Split(l.words, "|") {
			if w == text {
				return l.becomes, true
			}
		}
	}
	return "", false
}

func isUsualWord(text string) bool {
	_, ok := found1([]lexeme{{"usual", usualWords}}, text)
	return ok
}
