package rehearse

func doorDangers() []DangerMoment {
	steps := at("approach")
	return []DangerMoment{
		{
			ID: "feeding", Place: "door", steps: steps, Source: "TRADE",
			Happens: "Its head is in the bucket; as you come its ears go flat.", Asks: "How do you begin?",
			Options: options("Wait; the handler catches it and takes the feed.", "Begin at the tail while it is busy with eating.", "Reach past its head and draw the bucket away."),
			Why:     "Many horses guard their feed with heels and teeth. It is caught first, and then the feed goes.",
		},
		{
			ID: "second-horse", Place: "door", steps: steps, Source: "TRADE",
			Happens: "A second horse stands loose in the same box.", Asks: "What do you do?",
			Options: options("Have the second one led out before you begin.", "Go in with your back to the wall, and be quick.", "Let the handler keep it off with a free hand."),
			Why:     "A loose horse drives the other one, and you stand between the two.",
		},
		{
			ID: "door-way", Place: "door", steps: steps, Source: "TRADE",
			Happens: "You open the door, and it comes at the gap.", Asks: "What do you do?",
			Options: options("Stand aside and close the door before it comes.", "Stand in the gap with both of your arms out.", "Catch hold of the halter as it goes past you."),
			Why:     "Nobody stops a horse in a doorway. Shut it if there is time; else the gap is left free.",
		},
		{
			ID: "tied-short", Place: "door", steps: steps, Source: "TRADE",
			Happens: "It is tied to the rail; as you come it runs back on the rope.", Asks: "What do you do?",
			Options: options("Stay clear until the rope is slack, then untie.", "Step to its head quickly and undo the halter.", "Go behind it and drive it forward to the rail."),
			Why:     "A horse that fights the rope throws itself down or forward, on whoever stands at its head.",
		},
		{
			ID: "lying", Place: "door", steps: steps, Source: "TRADE",
			Happens: "It lies flat in the straw, and stirs as you come in.", Asks: "What do you do?",
			Options: options("Back to the door until it is up and stands still.", "Kneel on its neck, so that it stays down where it is.", "Go to its back and help it with a good push."),
			Why:     "Getting up it throws head and forelegs forward, with all of its weight.",
		},
	}
}

// cardDangers come up where the horse carries the caution that they need.
func cardDangers() []DangerMoment {
	return []DangerMoment{
		{
			ID: "kicker", Place: "card", steps: at("temp.rectal", "manure"), needs: "kicks", Source: "PARKIN18",
			Happens: "The card on the door says: kicks.", Asks: "Before you go to its tail?",
			Options: options("A handler at the head; along it, hand on it.", "Alone and very quickly, since the card may be old.", "Far back, reaching out with a long straight arm."),
			Why:     "In a survey of 620 equine vets a hind kick caused 49 % of the worst injuries. A caution valid until somebody takes it off.",
		},
		{
			ID: "kicker-again", Place: "card", steps: at("temp.rectal", "manure"), needs: "kicks", Source: "TRADE",
			Happens: "The card says: kicks. Twice now it has stood like a lamb.", Asks: "How do you go to its tail?",
			Options: options("As the card says: handler, word, hand along it.", "As with any other horse, since it stands well.", "Without the handler, who makes it only uneasy."),
			Why:     "That it stood well twice says nothing about the third time. The card holds.",
		},
		{
			ID: "biter", Place: "card", steps: at("gum.colour", "mouth.look"), needs: "bites", Source: "TRADE",
			Happens: "The card says: bites. Its ears go flat as you come to the head.", Asks: "What do you do?",
			Options: options("Have its head held, and work in from the side.", "Slap its nose once, so that it knows you well.", "Turn away to write until it thinks of others."),
			Why:     "A biter's head is held by a handler. A slap makes it quicker, and a turned back is what it waits for.",
		},
		{
			ID: "striker", Place: "card", steps: at("skin.tent", "jugular.fill", "limb.look"), needs: "strikes", Source: "PARKIN18",
			Happens: "The card says: strikes. It lifts its head and squeals.", Asks: "Where do you stand?",
			Options: options("Level with its ribs, and out of the fore's reach.", "Right in front, so that it can see you coming.", "Close before its knee, with a hand laid on it."),
			Why:     "In a survey of 620 equine vets a strike of a foreleg caused 11 % of the worst injuries.",
		},
		{
			ID: "headshy", Place: "card", steps: at("eye.look", "nose.discharge", "gum.colour"), needs: "head-shy", Source: "TRADE",
			Happens: "The card says: head-shy. It backs as your hand comes up.", Asks: "What do you do?",
			Options: options("Begin at the neck, and let the hand walk up slowly.", "Take hold of an ear, so that the head stays low.", "Be quick, so that it is over before it knows it."),
			Why:     "A hand that walks up from the neck is known when it arrives. A grip at the ear makes the next time worse.",
		},
	}
}

// distanceDangers come up before anybody touches the horse.
func distanceDangers() []DangerMoment {
	return []DangerMoment{
		{
			ID: "dog", Place: "distance", steps: at("breath.rate", "posture"), Source: "TRADE",
			Happens: "A dog slips in under the door while you stand and watch.", Asks: "What do you do?",
			Options: options("Stop, have the dog led away, and begin again.", "Go on, and hold the dog fast with your feet.", "Call the dog to you, along the horse's legs."),
			Why:     "Horses kick at dogs, and hit who stands beside them.",
		},
		{
			ID: "rolling", Place: "distance", steps: at("demeanour", "posture"), Source: "TRADE",
			Happens: "It buckles its knees, goes down and rolls against the wall.", Asks: "What do you do?",
			Options: options("Stay outside, and telephone the veterinarian.", "Pull its head round, so that it gets up again.", "Stand at its neck, and hold it to the ground."),
			Why:     "Whoever is in the box with a horse that rolls is hit by legs that mean nobody.",
		},
		{
			ID: "turning", Place: "distance", steps: at("gait.look"), Source: "TRADE",
			Happens: "At the end of the walk the handler turns it towards himself.", Asks: "What do you call out?",
			Options: options("Turn it away from you, and walk on its outside.", "Go on so; it knows how to turn by itself now.", "Turn it faster, so that it gets over quickly."),
			Why:     "A horse that is turned towards the handler steps on his feet and swings its quarters out at others.",
		},
		{
			ID: "fresh", Place: "distance", steps: at("gait.look"), Source: "TRADE",
			Happens: "It is cold; on the walk it squeals and kicks out sideways.", Asks: "From where do you look?",
			Options: options("From well to the side, further than it reaches.", "From right behind it, to see both hind feet go.", "From the front, arms up so that it slows down."),
			Why:     "Straight behind and close beside are where a fresh horse lands its kicks.",
		},
		{
			ID: "staling", Place: "distance", steps: at("urine", "pain.signs", "pain.grimace"), Source: "TRADE",
			Happens: "It stretches out to urinate, and you would like to see how.", Asks: "Where do you stand?",
			Options: options("Where you are, outside, until it is done with it.", "Beside its stifle, bent so that you see it well.", "Straight behind, with a cup in your open hand."),
			Why:     "Stretched out it cannot move its feet well, and takes fright when somebody comes up.",
		},
		{
			ID: "telephone", Place: "distance", steps: at("breath.rate", "breath.effort"), Source: "TRADE",
			Happens: "Your telephone rings in your pocket; its head goes up.", Asks: "What do you do?",
			Options: options("Leave it alone, and take the call further away.", "Answer softly, a hand on its neck all the time.", "Let it ring, and go in while its head is high."),
			Why:     "Who telephones does not observe the horse. A head that is up is a horse about to move.",
		},
	}
}

// mareDangers come up with a foal.
func mareDangers() []DangerMoment {
	steps := at("approach", "navel")
	return []DangerMoment{
		{
			ID: "mare", Place: "mare", steps: at("approach"), young: true, Source: "TRADE",
			Happens: "The mare puts herself before the foal, ears flat.", Asks: "How do you get to the foal?",
			Options: options("Have her held where she sees it; come round.", "Slip in between them while she looks away.", "Take the foal out of the box to the light."),
			Why:     "Nobody stands between a mare and her foal. She is held where she sees it.",
		},
		{
			ID: "foal-kicks", Place: "mare", steps: steps, young: true, Source: "TRADE",
			Happens: "The foal stands with its quarters to you and humps its back.", Asks: "How do you take hold?",
			Options: options("An arm round the chest, the other round behind.", "By the tail alone, up and over its short back.", "By the ears, so that its head comes to you."),
			Why:     "A foal kicks as quickly as it stands. Held round chest and quarters it cannot, and nothing is pulled.",
		},
		{
			ID: "mare-swings", Place: "mare", steps: steps, young: true, Source: "TRADE",
			Happens: "The mare is held; as the foal squeals she swings round.", Asks: "What do you do?",
			Options: options("Let the foal go to her, and begin once more.", "Hold the foal fast, and turn your back to her.", "Put the foal between the mare and yourself."),
			Why:     "A mare that comes for her foal is not stopped by a rope. It goes to her, and one begins again.",
		},
		{
			ID: "foal-down", Place: "mare", steps: steps, young: true, Source: "TRADE",
			Happens: "The foal throws itself over backwards in your arms.", Asks: "What do you do?",
			Options: options("Go down with it, shielding its head as it falls.", "Let go at once, so that it does not take you too.", "Hold its head up high by the nose and one ear."),
			Why:     "A foal that goes over backwards breaks its skull on the floor. It is held low, and never lifted by the head.",
		},
	}
}
