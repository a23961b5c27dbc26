package procedure

import (
	"time"

	"loosebox/exam"
	"loosebox/ranges"
)

// Keys of the signs of danger, as they stand in the record.
const (
	Artery   = "artery"
	Beside   = "outside the vein"
	Reaction = "reaction"
	Excited  = "excitement"
	Vein     = "vein"
	Muscle   = "muscle"
)

// Danger is a sign of danger in or after an injection, with what to do first.
// It names no drug: the veterinarian is called.
type Danger struct {
	Key   string
	Title string   `words:"title"`
	When  string   `words:"when"`
	Seen  []string `words:"seen"`  // what is seen
	First []string `words:"first"` // what to do first, in order
	Now   bool     // call the veterinarian at once; otherwise tell today
	// Sources names what is seen first, then what to do; Evidence is the weaker of
	// the two. What to do first is common practice, where no source is named for it.
	Sources  string
	Evidence exam.Evidence
}

// Dangers lists every sign, the most pressing first.
func Dangers() []Danger { return dangers() }

func builtInDangers() []Danger {
	note := "Record: time, product, lot, amount given."
	return []Danger{
		{
			Key: Artery, Title: "Into the artery", When: "while it goes in, or straight after",
			Seen: []string{
				"bright blood that pulses", "wide eyes, fear", "twitching of the face on the other side", "rears, strikes, falls", "seizure, lies down, does not respond",
			},
			First: []string{"Stop. Get people clear; nobody lies on the horse.", "Call the veterinarian now.", "Clear the space around it. Keep quiet.", note}, Now: true,
			Sources: "seen: Dechant, in Complications in Equine Surgery, ch. 3; Equine Clinical Medicine, p. 1085; survey of 15 horses, intracarotid injection; " +
				"what to do first: common practice", Evidence: ranges.CommonPractice,
		},
		{
			Key: Reaction, Title: "Reaction to the product", When: "minutes after, sometimes hours",
			Seen: []string{
				"hives, swollen face or eyelids", "sweating, fear, restless", "fast or labored breathing", "colic, diarrhea", "weak, staggers, collapses",
			},
			First: []string{"Stop giving it. Keep yourself clear if it staggers.", "Call the veterinarian now.", "Stay where you can see it.", "Record: time, product, lot, route, site, amount given."}, Now: true,
			Sources: "common practice; read on several pages, none of them kept by its name", Evidence: ranges.CommonPractice,
		},
		{
			Key: Excited, Title: "Sudden excitement", When: "seconds after an injection; a label may warn of it",
			Seen:  []string{"wild excitement", "bolts", "seizure"},
			First: []string{"Let go and get people clear.", "Dark and quiet, nothing to run into.", "Call the veterinarian now.", note}, Now: true,
			Sources: "Complications in Equine Surgery, excitement after an injection", Evidence: ranges.Published,
		},
		{
			Key: Beside, Title: "Outside the vein", When: "while it goes in, or hours after",
			Seen:  []string{"a swelling that grows at the needle", "no blood comes back", "the horse flinches", "later: heat, pain, a lost vein"},
			First: []string{"Stop. Leave no more there.", "Do not rub it. Tell the veterinarian at once.", note}, Now: true,
			Sources: "Complications in Equine Surgery; what to do first from memory", Evidence: ranges.FromMemory,
		},
		{
			Key: Muscle, Title: "A muscle that swells fast", When: "hours to days after",
			Seen:  []string{"swelling that grows fast, hot or cold", "crackling under the skin", "fever, dull, off feed", "lame on that side"},
			First: []string{"Call the veterinarian now.", "Temperature, pulse, breaths; the site with its size.", "Record: product, lot, site, day."}, Now: true,
			Sources: "seen: Complications in Equine Surgery, and pages of two clinics; lameness and what to do first: from memory", Evidence: ranges.FromMemory,
		},
		{
			Key: Vein, Title: "Hot, hard or swollen vein", When: "a day or days after",
			Seen:  []string{"hot, thick, cord-like, painful vein", "it fills slowly", "both veins: the head or tongue swells, breathing is hard"},
			First: []string{"No more needles in that vein. Tell the veterinarian today; now, if the head swells."}, Now: false,
			Sources: "seen: Equine Clinical Medicine, p. 1002, and a case report; what to do first: common practice", Evidence: ranges.CommonPractice,
		},
	}
}

// FindDanger returns a sign of danger by its key.
func FindDanger(key string) (Danger, bool) {
	for _, d := range Dangers() {
		if d.Key == key {
			return d, true
		}
	}
	return Danger{}, false
}

// Expected is what may follow any vaccine or needle and goes by itself.
const Expected = "Normal: fever under 102 F (38.9 C), dullness and soreness for one or two days. A soft swelling at a vein for two or three days. Anything more is for the veterinarian."

// ExpectedSource is where Expected was read.
const ExpectedSource = "a riders' magazine (Trail Rider 2017); the swelling at a vein: an article for owners (common practice)"

// Report says where a suspected reaction is reported, as read for the USA.
const Report = "The veterinarian reports suspected reactions. Vaccines: to the maker and the USDA Center for Veterinary Biologics. Drugs: to the maker and the FDA (aphis.usda.gov)."

// Stopped is the line that ends an injection at a sign of danger.
func Stopped(number int, d Danger, seen string, ml float64, known bool) exam.InjectionLine {
	return exam.InjectionLine{
		Number: number, Phase: exam.InjectionStopped, Sign: d.Key, SignWords: d.Title + ": " + seen, Why: exam.StopReason(d.Title), VolumeML: ml, NotKnown: !known,
	}
}

// Minutes says how long an injection has been over, for a reaction that comes late.
func Minutes(i exam.Injection, now time.Time) (int, bool) {
	if i.EndAt == nil || now.Before(*i.EndAt) {
		return 0, false
	}
	return int(now.Sub(*i.EndAt).Minutes()), true
}
