package rehearse

func headDangers() []DangerMoment {
	steps := at("eye.look", "nose.discharge", "node.jaw")
	return []DangerMoment{
		{
			ID: "lamp", Place: "head", steps: steps, Source: "TRADE",
			Happens: "Its head is high, and the lamp is in your hand.", Asks: "How do you go about it?",
			Options: options("Lamp off; touch its cheek, then light it from low.", "Lamp on and straight in, before it can turn it away.", "Lamp under the brow, so that it holds still there."),
			Why:     "It cannot see under its own forehead. What is known by touch does not frighten it.",
		},
		{
			ID: "snort", Place: "head", steps: at("eye.look", "nose.discharge"), Source: "TRADE",
			Happens: "It has thick yellow discharge and draws a deep breath.", Asks: "What do you do?",
			Options: options("Turn your face away; see to this one at the end.", "Hold the nostril shut with a finger and a thumb.", "Wipe it with your sleeve, then look in closely."),
			Why:     "A snort carries what it has to your face, and your sleeve to the next horse.",
		},
		{
			ID: "tossing", Place: "head", steps: steps, Source: "TRADE",
			Happens: "It tosses its head up and down, close by your own.", Asks: "What do you do?",
			Options: options("Head out of its way, and wait until it is done.", "Hang on to the halter, with all of your weight.", "Put your chin upon its neck, to see it better."),
			Why:     "A horse's head weighs as much as a child. It breaks teeth and noses on its way up.",
		},
		{
			ID: "twitch", Place: "head", steps: steps, Source: "TRADE",
			Happens: "The groom brings a twitch, and reaches for its nose.", Asks: "What do you say?",
			Options: options("Not now: the veterinarian says when it is used.", "Yes, and twist it well, so that it stands still.", "Yes, and you hold it for me, from the front."),
			Why:     "A twitch comes off with a strike or a rear when it fails. Restraint beyond a halter is the veterinarian's word.",
		},
	}
}

func gumDangers() []DangerMoment {
	steps := at("gum.colour", "gum.moisture", "mouth.look")
	return []DangerMoment{
		{
			ID: "throws", Place: "gums", steps: steps, Source: "TRADE",
			Happens: "As you reach for the lip it throws its head.", Asks: "What do you do?",
			Options: options("Let it settle, then lift the lip at its corner.", "Take the tongue in your hand, and hold it there.", "Hook two fingers in, at the back of the front."),
			Why:     "The corner of the lip is lifted without the jaws. A held tongue tears, and hooked fingers are bitten.",
		},
		{
			ID: "drools", Place: "gums", steps: steps, Source: "UCDSAFE",
			Happens: "It drools and swallows badly; the cause is not known.", Asks: "What do you do?",
			Options: options("Hands out of it, gloves, and tell the veterinarian.", "Feel for a thorn, with bare fingers below the tongue.", "Rinse its mouth out, and then look in with a lamp."),
			Why:     "What makes a horse swallow badly can be rabies: saliva on a scratch counts as exposure.",
		},
		{
			ID: "yawns", Place: "gums", steps: steps, Source: "TRADE",
			Happens: "It opens its jaws wide and yawns, your thumb at the lip.", Asks: "What do you do?",
			Options: options("Draw the hand away sideways until it has shut.", "Look in while it is open, for the chance is rare.", "Hold its jaw wide open, with your other hand as well."),
			Why:     "A yawn ends in a bite that means nobody. The molars lie where the fingers are.",
		},
	}
}

func limbDangers() []DangerMoment {
	steps := at("limb.look", "limb.warmth", "hoof.heat", "limb.digitalpulse")
	return []DangerMoment{
		{
			ID: "lifts-foot", Place: "limbs", steps: steps, Source: "TRADE",
			Happens: "You reach down to the foot, and it lifts that foot off the ground.", Asks: "What do you do?",
			Options: options("Come up, let it put the foot down, begin above.", "Hold on to it fast, until it gives the foot up.", "Sit on your heels, so that you can wait for it."),
			Why:     "A foot that is held makes it lean or snatch, and whoever is down low cannot get away.",
		},
		{
			ID: "stamps", Place: "limbs", steps: steps, Source: "TRADE",
			Happens: "It stamps, and the hoof comes down beside your boot.", Asks: "How do you go on?",
			Options: options("Boots further off, and a hand run down from above.", "Boots where they are: now you know where it lands.", "Boots together, right under it, where it won't step."),
			Why:     "Feet stand where the hoof does not come down. A hand that runs down from above is expected.",
		},
		{
			ID: "hind-far", Place: "limbs", steps: steps, Source: "TRADE",
			Happens: "You want the far hind foot, and it stands nearer the wall.", Asks: "How do you get to it?",
			Options: options("Have it turned, so that this foot is out in the open.", "Reach across, in between the two of its hind legs.", "Squeeze in by the wall, where it cannot swing out at you."),
			Why:     "The horse moves, not the person: each foot is looked at with a way out behind one.",
		},
		{
			ID: "both-hands", Place: "limbs", steps: steps, Source: "TRADE",
			Happens: "You need both hands at the pastern, and it shifts about.", Asks: "What do you do?",
			Options: options("One hand stays on the leg above, to feel it coming.", "Both hands low, and your forehead against the cannon.", "Both hands low, and a knee on the floor as a prop."),
			Why:     "A hand on the leg feels the muscle before the foot moves. Forehead and knee are in its way.",
		},
		{
			ID: "wound", Place: "limbs", steps: steps, Source: "UCDSAFE",
			Happens: "There is a fresh wound where you have to feel.", Asks: "What do you do?",
			Options: options("Gloves, and feel well above it; the wound can wait.", "Press round it hard, to find out how deep it goes.", "Wipe it clean with your thumb, so as to see it all."),
			Why:     "Gloves for any wound: they keep what is in it from you, and what is on you from it.",
		},
	}
}

// needleDangers come up after a needle went in.
func needleDangers() []DangerMoment {
	return []DangerMoment{
		{
			ID: "draw-back", Place: needlePlace, Source: "TRADE",
			Happens: "The needle is in the muscle; the horse stands.", Asks: "What next?",
			Options: options("Pull the plunger out a little, and look for red.", "Press the plunger in now, while it stands well.", "Press in just a drop, and see how it bears it."),
			Why:     "The plunger is drawn back first: blood in the hub means a vessel, and then nothing is given there.",
		},
	}
}
