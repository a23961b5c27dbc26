package rehearse

import "loosebox/exam"

func at(steps ...exam.StepID) []exam.StepID { return steps }

// moments is the table of moments. What is safe is common practice of the trade, as the cautions of exam/steps say it;
// only one option of each is safe.
func moments() []Moment {
	return append([]Moment{
		{
			ID: "coming-near", steps: at("approach"), Source: "TRADE", sure: true,
			Happens: "It stands with its tail to the door and has not heard you.", Asks: "How do you go in?",
			Options: []Option{
				{"speak", "Speak from the door until it turns an ear, then go to the shoulder.", true},
				{"quick", "Slip in quietly along the wall behind it.", false},
				{"front", "Walk straight up to its face with the hand out.", false},
			},
			Why: "A horse sees least right behind and right before itself: it is spoken to first, then met at the shoulder.",
		},
		{
			ID: "swing", steps: at("temp.rectal"), AfterS: 5, Source: "TRADE", sure: true,
			Happens: "With the thermometer in, it swings its quarters towards you.", Asks: "What do you do?",
			Options: []Option{
				{"with-hip", "Go with the hip, close against it, hand on the thermometer.", true},
				{"behind", "Step round behind it to the other side.", false},
				{"let-go", "Jump back a step and let go of the thermometer.", false},
			},
			Why: "Close beside the hip a kick has no room to gather; a step away or behind stands where it lands.",
		},
		{
			ID: "behind", steps: at("belly.distension", "manure"), Source: "TRADE", sure: true,
			Happens: "You have to get to its other side; the way leads behind it.", Asks: "How do you pass?",
			Options: []Option{
				{"far", "Right round, three horse-lengths off.", true},
				{"near", "A step and a half behind it, quickly.", false},
				{"under", "Under the neck, below the rope.", false},
			},
			Why: "Behind a horse one passes touching it with a hand, or well out of reach; in between is where kicks land.",
		},
		{
			ID: "kneel", steps: at("limb.look", "limb.warmth", "hoof.heat", "limb.digitalpulse"), Source: "TRADE", sure: true,
			Happens: "You go down to the foot, and it lifts that foot off the ground.", Asks: "How are you placed?",
			Options: []Option{
				{"bent", "Bent from the hips, both soles on the ground, head out of line.", true},
				{"kneeling", "On one knee, to have both hands free.", false},
				{"sitting", "Sitting on your heels before the leg.", false},
			},
			Why: "Whoever kneels or sits cannot get away: one bends, stays on the feet and keeps the head out of line.",
		},
		{
			ID: "hind-leg", steps: at("gut.sounds"), Source: "TRADE",
			Happens: "While you listen at the flank, the hind leg on your side comes forward and hangs.", Asks: "Where do you listen?",
			Options: []Option{
				{"ribs", "Close to the ribs, a hand on its back, eyes on that leg.", true},
				{"stifle", "With your knee against its stifle, to feel what it will do.", false},
				{"far-arm", "At arm's length, so that you can jump.", false},
			},
			Why: "A hind foot reaches forward and out: close to the ribs with a hand on the back one feels it coming.",
		},
		{
			ID: "teeth", steps: at("gum.colour", "mouth.look"), Source: "TRADE",
			Happens: "It throws its head as you reach for the lip.", Asks: "How do you look?",
			Options: []Option{
				{"beside", "Beside the head, thumb on the gum, fingers clear of the teeth.", true},
				{"before", "Before its face, pulling the jaws apart.", false},
				{"hook", "Two fingers hooked in behind the front teeth.", false},
			},
			Why: "Stand beside the head and keep the fingers clear of the teeth: it throws its head and it closes its jaws.",
		},
	}, moreMoments()...)
}

func moreMoments() []Moment {
	return []Moment{
		{
			ID: "rope", steps: at("heart.rate"), Source: "TRADE",
			Happens: "The handler has gone round to the off side, and you are on the near side.", Asks: "What now?",
			Options: []Option{
				{"same-side", "Ask the handler over to your side before you bend down.", true},
				{"go-on", "Go on: it stands well.", false},
				{"wrap", "Take the rope yourself, a turn of it round the hand.", false},
			},
			Why: "The handler stands on the side you work on, so that the quarters swing away; a rope is never wrapped round a hand.",
		},
		{
			ID: "under-belly", steps: at("weight.body", "udder.sheath"), Source: "TRADE",
			Happens: "What you need hangs on the far side, under the belly.", Asks: "How do you get at it?",
			Options: []Option{
				{"beside", "From close at the flank, facing the tail, one hand on it, and reach.", true},
				{"duck", "Duck through under the belly.", false},
				{"squat", "Squat down before the stifle and look up.", false},
			},
			Why: "Nobody goes under a horse or squats before its stifle; one stands close, faces the tail and stops at a lifted leg.",
		},
		{
			ID: "forehead", steps: at("eye.look"), Source: "TRADE",
			Happens: "Its head is high and the light is in your hand.", Asks: "How do you come to the eye?",
			Options: []Option{
				{"side", "Speak, come from the side, lay a hand on the cheek first.", true},
				{"straight", "Straight up under the forehead, so that it keeps still.", false},
				{"sudden", "Shine at it from in front before it can turn away.", false},
			},
			Why: "It cannot see a hand under its forehead: speak, come from the side, touch first.",
		},
		{
			ID: "kicker", steps: at("temp.rectal", "manure"), needs: "kicks", Source: "TRADE",
			Happens: "The card on the door says: kicks.", Asks: "Before you go to its tail?",
			Options: []Option{
				{"handler", "A handler at the head on your side, a word to both, then along the body with a hand on it.", true},
				{"alone", "Alone and quickly; the card may be old.", false},
				{"stand-off", "Stand well back and reach with an outstretched arm.", false},
			},
			Why: "A caution on the door holds until somebody takes it off: a handler at the head, and along the body.",
		},
		{
			ID: "biter", steps: at("gum.colour", "mouth.look", "nose.discharge"), needs: "bites", Source: "TRADE",
			Happens: "The card on the door says: bites. Its ears go flat as you come to the head.", Asks: "What do you do?",
			Options: []Option{
				{"handler", "Have the handler hold the head, and work from the side.", true},
				{"slap", "Slap its nose, so that it knows.", false},
				{"turn-back", "Turn your back to it while you write.", false},
			},
			Why: "A biter's head is held by a handler; a slap makes it quicker, and a turned back is what it waits for.",
		},
		{
			ID: "mare", steps: at("approach", "navel"), young: true, Source: "TRADE", sure: true,
			Happens: "The mare puts herself between you and the foal, ears flat.", Asks: "How do you get to the foal?",
			Options: []Option{
				{"held-mare", "Have the mare held where she sees it, then come to the foal from its far side.", true},
				{"between", "Walk between the two while she looks away.", false},
				{"take-out", "Lead the foal out of the box, away from her.", false},
			},
			Why: "Nobody stands between a mare and her foal; she is held where she sees it.",
		},
		{
			ID: "draw-back", Source: "TRADE",
			Happens: "The needle is in the muscle; the horse stands.", Asks: "What next?",
			Options: []Option{
				{"aspirate", "Draw the plunger back and look for blood.", true},
				{"press", "Press the plunger while it stands well.", false},
				{"slow", "Press a little, and see how it bears it.", false},
			},
			Why: "The plunger is drawn back first: blood in the hub means a vessel, and then nothing is given there.",
		},
	}
}
