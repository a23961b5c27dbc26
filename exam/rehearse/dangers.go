package rehearse

import "loosebox/exam"

// places are where on the walk round the horse danger questions come up, in the order of the walk. A rehearsal asks one
// question a place, drawn by seed from those that fit the horse, so that the next rehearsal asks another.
func places() []string {
	return []string{"door", "card", "distance", "mare", "tail", "side", "belly", "way", "head", "gums", "limbs", needlePlace}
}

// needlePlace has the questions after a needle went in; no step brings them up.
const needlePlace = "needle"

// always are the places whose question comes up whatever the temper.
func always(place string) bool {
	switch place {
	case "door", "card", "mare", "tail", "limbs":
		return true
	}
	return false
}

// moments is the table of danger questions, by place. Each has one safe option, the first here; they are shuffled by seed
// before they are shown. A test holds that length does not tell the safe one, and that no step's caution gives it away.
func moments() []DangerMoment {
	var out []DangerMoment
	for _, part := range [][]DangerMoment{
		doorDangers(), cardDangers(), distanceDangers(), mareDangers(), tailDangers(), sideDangers(), bellyDangers(),
		wayDangers(), headDangers(), gumDangers(), limbDangers(), needleDangers(),
	} {
		out = append(out, part...)
	}
	return out
}

func at(steps ...exam.StepID) []exam.StepID { return steps }

// options are the three choices, the safe one first.
func options(safe, second, third string) []Option {
	return []Option{{"a", safe, true}, {"b", second, false}, {"c", third, false}}
}
