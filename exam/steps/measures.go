package steps

import (
	"loosebox/exam"
	"loosebox/exam/notation"
	"loosebox/ranges"
)

// The place of the tape: University of Minnesota, body measurements. The spans are
// from memory: from a small miniature to the tallest draft horses.
func heightWithers() exam.Step {
	return exam.Step{
		ID: "height.withers", Name: "Height at the withers", Short: "height",
		System: exam.SystemGeneral, Kind: exam.KindNumber, Asked: exam.AskedOfGrown,
		Unit: notation.Centimetre, Units: []notation.Unit{notation.Centimetre, notation.Inch}, Decimals: 1, InHands: true,
		Possible: exam.Span{Low: 50, High: 220}, Likely: exam.Span{Low: 60, High: 200},
		Sense: exam.ByEye,
		Shows: exam.Shows{While: "The tape shows %s.", Also: notation.Inch, Span: usualHeightCm},
		How: []string{
			"From hard, level ground straight up to the top of the withers.",
			"Standing square, head low enough for the withers to be the highest.",
		},
		Caution: "Hold the stick on your own side; let the horse see it first.",
	}
}

func neckGirth() exam.Step {
	return exam.Step{
		ID: "neck.girth", Name: "Neck girth", Short: "neck girth",
		System: exam.SystemGeneral, Kind: exam.KindNumber, Asked: exam.AskedOfGrown,
		Unit: notation.Centimetre, Units: []notation.Unit{notation.Centimetre, notation.Inch}, Decimals: 1,
		Possible: exam.Span{Low: 30, High: 180}, Likely: exam.Span{Low: 40, High: 150},
		Sense: exam.ByEye,
		Shows: exam.Shows{
			While: "The tape shows %s.", Also: notation.Inch,
			// Under the published limits of the ratio to height, 0.63 and 0.68 (University of Minnesota); 0.52 to 0.60 is assumed.
			Share: exam.Share{Of: "height.withers", From: exam.Span{Low: 0.52, High: 0.60}},
		},
		How: []string{
			"Around the neck half-way between poll and withers, neck relaxed.",
			"Over the height at the withers it gives a ratio; same place every time.",
		},
		Caution: "Pass the tape round from the shoulder, never over the face.",
	}
}

// Depth and timing: COOR, HALL19, WVS (touch the wall, about 5 cm; glass 2 to
// 3 minutes). Core temperature reaches 43 C in racing (MERCKHS).
func tempRectal() exam.Step {
	return exam.Step{
		ID: "temp.rectal", Name: "Rectal temperature", Short: "temperature",
		System: exam.SystemGeneral, Kind: exam.KindNumber,
		Unit: notation.Celsius, Units: []notation.Unit{notation.Celsius, notation.Fahrenheit}, Decimals: 1,
		Possible: exam.Span{Low: 30, High: 45}, Likely: exam.Span{Low: 35, High: 41.5},
		Sense: exam.ByEye,
		Shows: exam.Shows{While: "The thermometer is in, its tip against the wall; it has not beeped yet.", Also: notation.Fahrenheit},
		How: []string{
			"Tip greased, against the rectal wall, not in manure, about 5 cm deep.",
			"Digital: wait for the beep. Glass: shake down, then 2 to 3 minutes.",
			"Low in a bright horse: place it again before you believe it.",
		},
		Caution: "Stand close beside the hip, never behind; keep hold of the thermometer.",
		Range:   ranges.TempRectal, SlowSeconds: 120,
	}
}

// The spans run from a small newborn to the heaviest draft horses: from memory.
func weightBody() exam.Step {
	return exam.Step{
		ID: "weight.body", Name: "Body weight", Short: "weight",
		System: exam.SystemGeneral, Kind: exam.KindWeight,
		Unit: notation.Kilograms, Units: []notation.Unit{notation.Kilograms, notation.Pounds}, Decimals: 1,
		Possible: exam.Span{Low: 3, High: 1600}, Likely: exam.Span{Low: 20, High: 1100},
		Sense: exam.ByEye,
		Shows: exam.Shows{While: "The yard's scale shows %s.", Also: notation.Pounds, Span: usualKg},
		How: []string{
			"Scale before tape, tape before eye. Same way, same tape at every visit.",
			"Each measure says where the tape goes on this animal; horse square.",
		},
		Caution: "Pass the tape under from the side; never duck under neck or belly.",
	}
}

func closing() []exam.Step {
	return []exam.Step{{
		ID: "note", Name: "Anything else", Short: "anything else",
		System: exam.SystemGeneral, Kind: exam.KindNote,
		FromOutside: true, Sense: exam.ByEye,
		Shows: exam.Shows{While: "You look round once more: nothing that no step asked."},
		How: []string{
			"What no step asked: feed and water left, travel, what the owner saw.",
			"Write what you saw, not what you think it is.",
		},
	}}
}
