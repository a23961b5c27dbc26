package rehearse

func tailDangers() []DangerMoment {
	steps := at("temp.rectal")
	return []DangerMoment{
		{
			ID: "swing", Place: "tail", steps: steps, AfterS: 5, Source: "TRADE",
			Happens: "While it is being measured, it swings its quarters towards you.", Asks: "What do you do?",
			Options: options("Move along with it, your side against its side.", "Step round its tail, over to the quieter side.", "Let go of it all, and jump back out of reach."),
			Why:     "Close against it a kick has no room. A step away, or round the tail, is where it lands.",
		},
		{
			ID: "clamp", Place: "tail", steps: steps, Source: "TRADE",
			Happens: "It clamps its tail and tucks its quarters under.", Asks: "What do you do?",
			Options: options("Wait, still touching its hip, till the tail gives.", "Pull the tail over hard, to have it behind you.", "Come from straight at the back, and be quick."),
			Why:     "A clamped tail is a warning. A kick follows the pull, not the wait.",
		},
		{
			ID: "lifts-hind", Place: "tail", steps: steps, Source: "TRADE",
			Happens: "The hind foot next to you comes up and stays up.", Asks: "What do you do?",
			Options: options("Take it out, go forward along it, and try again.", "Press the raised leg down, with your own two knees.", "Lean well back, and hold on there at an arm's length."),
			Why:     "A foot that hangs is a kick that waits. Forward along the body is away from it.",
		},
		{
			ID: "flies", Place: "tail", steps: steps, Source: "TRADE",
			Happens: "Flies bite it; it stamps, and the tail goes in your face.", Asks: "What do you do?",
			Options: options("Have the flies kept off, before you go on here.", "Clamp the tail under an arm, and just carry on.", "Duck below the tail, near the points of the hocks."),
			Why:     "A stamp at a fly hits the foot beside it. First the flies, then the horse.",
		},
		{
			ID: "lost", Place: "tail", steps: steps, Source: "TRADE",
			Happens: "It coughs, and what you held in your hand slips away from you inside.", Asks: "What do you do?",
			Options: options("Stay, keep it still, telephone the veterinarian.", "Reach in after it at once, and as far as you can get.", "Trot it round, so that it comes out by itself."),
			Why:     "A hand that goes in can tear the wall. What is inside is for the veterinarian, and soon.",
		},
	}
}

func sideDangers() []DangerMoment {
	steps := at("heart.rate", "heart.rhythm", "heart.murmur")
	return []DangerMoment{
		{
			ID: "leans", Place: "side", steps: steps, Source: "PARKIN18",
			Happens: "It leans on you, and the wall is at your back.", Asks: "What do you do?",
			Options: options("Slip out towards the front, and have it turned.", "Push it off with both of your hands flat on it.", "Stay, and finish the count against the wall."),
			Why:     "In a survey of 620 equine vets 5 % of the worst injuries were crushes. A wall at one's back is left first.",
		},
		{
			ID: "wrapped", Place: "side", steps: steps, Source: "TRADE",
			Happens: "The handler has to go; the rope is in your hand.", Asks: "How do you go on?",
			Options: options("Not at all until somebody else holds the horse.", "With a turn of rope round the wrist, to feel it.", "With the rope laid over your neck, hands free."),
			Why:     "Who listens cannot hold. A rope round a wrist or a neck pulls a person along.",
		},
		{
			ID: "other-side", Place: "side", steps: steps, Source: "TRADE",
			Happens: "The handler looks at you from across the withers.", Asks: "What now?",
			Options: options("Ask for a change: both of you on the one side.", "Go on, since it has stood very well up to here.", "Ask for a change: it pulls the head the other way."),
			Why:     "Where both stand on one side a pull at the head swings the quarters away from both.",
		},
		{
			ID: "paws", Place: "side", steps: steps, Source: "TRADE",
			Happens: "It begins to paw, forefoot beside your boots.", Asks: "What do you do?",
			Options: options("Back along the ribs until the foot is at rest.", "Put your boot before the hoof, to quieten it.", "Step in front of it, and take hold of the knee."),
			Why:     "A forefoot goes forward and comes down. Along the ribs it does not reach.",
		},
		{
			ID: "mutual-groom", Place: "side", steps: steps, Source: "TRADE",
			Happens: "It turns its head and nibbles at your sleeve.", Asks: "What do you do?",
			Options: options("Have its head brought straight before it bites.", "Scratch its neck, so that it stays friendly now.", "Flick its nose with the tube, and listen on."),
			Why:     "A nibble is grooming between horses, and their skin is thicker than ours.",
		},
	}
}

func bellyDangers() []DangerMoment {
	steps := at("gut.sounds", "udder.sheath", "belly.distension")
	return []DangerMoment{
		{
			ID: "cow-kick", Place: "belly", steps: steps, Source: "TRADE",
			Happens: "The leg on your side comes up towards its belly.", Asks: "What do you do?",
			Options: options("Straighten up, forward to the withers, and wait.", "Lay your knee against its stifle, to feel how it moves.", "Go out to a full arm's length, and listen there."),
			Why:     "A horse kicks forward and out with one hind foot as well. In front of it, against the body, is out of reach.",
		},
		{
			ID: "dropped", Place: "belly", steps: steps, Source: "TRADE",
			Happens: "Your stethoscope falls and lies beneath it.", Asks: "How do you get it?",
			Options: options("Have it led on by two steps, then pick it up.", "Crouch down and reach in between its four legs.", "Fish it out to you with the toe of your boot."),
			Why:     "What lies under a horse is safe there. A head or a foot is not.",
		},
		{
			ID: "ticklish", Place: "belly", steps: steps, Source: "TRADE",
			Happens: "As you touch its flank the skin shivers and it humps.", Asks: "What do you do?",
			Options: options("Flat palm from the withers down, then the rest.", "Fingertips only, as light and quick as you can.", "Straight in with some force, so that it gives up."),
			Why:     "A flat hand that comes from where it is known tickles least. A light touch is a fly.",
		},
		{
			ID: "sore-belly", Place: "belly", steps: steps, Source: "TRADE",
			Happens: "It looks round at its flank, and the knees give a little.", Asks: "What do you do?",
			Options: options("Out and away to its head: it may be going down.", "Hold it up from the side, with your own shoulder.", "Go on listening: that is what you are here for."),
			Why:     "A horse that wants to lie down does so at once, towards the side that gives.",
		},
	}
}

// wayDangers come up on the way round to the other side.
func wayDangers() []DangerMoment {
	steps := at("skin.look", "lung.sounds")
	return []DangerMoment{
		{
			ID: "behind", Place: "way", steps: steps, Source: "TRADE",
			Happens: "You have to get to its other side. There is room all round.", Asks: "How do you pass?",
			Options: options("Round the back, by three of its own lengths.", "Behind it by a step and a half, and quickly so.", "Under the neck, below the rope that is slack."),
			Why:     "Behind a horse one passes touching it, or far out of reach; in between is where kicks land.",
		},
		{
			ID: "narrow", Place: "way", steps: steps, Source: "TRADE",
			Happens: "The aisle is narrow, and a handcart fills the one side.", Asks: "How do you get across?",
			Options: options("Have the cart moved first, or the horse turned.", "Squeeze in between its quarters and the cart.", "Climb up over the cart, close behind its tail."),
			Why:     "Between a horse and something hard there is no way out. Room is made before anybody goes in.",
		},
		{
			ID: "cross-tied", Place: "way", steps: steps, Source: "TRADE",
			Happens: "It stands tied on both sides of the head; you must get across.", Asks: "How do you go?",
			Options: options("Unhook one side of it, and walk round in front.", "Stoop below the chain, right under its jaw bone.", "Slip past behind it, one hand upon the far wall."),
			Why:     "Under a rope or chain one is out of sight and under a head that comes down.",
		},
	}
}
