package examtest

import "loosebox/ranges"

// works is every source that a score, a volume, a procedure or a time to wait names, as it is written there, with the
// strongest evidence it may carry. Parts of a source are divided by "; ". A new source has no tier until it is entered here.
func works() map[string]ranges.Evidence {
	all := map[string]ranges.Evidence{}
	add := func(tier ranges.Evidence, parts ...string) {
		for _, p := range parts {
			all[p] = tier
		}
	}
	add(ranges.Published,
		// papers and books
		"Breuer and Schusser, modified, as printed in Mediators Inflamm 2021, 9501478, table 1",
		"Henneke et al., Equine Vet J 1983;15:371-372", "areas and steps read in a copy",
		"called cresty from 3: Giles et al., BMC Vet Res 2015;11:13",
		"Dalla Costa et al., PLoS ONE 2014;9:e92281",
		"usual times as in Austin, Equine Vet Educ 2013;25:585-589, read in a copy",
		"Younes et al., PLoS One 2015: later than 11 to 13 min foretold elimination at the next gate",
		"Equine Clinical Medicine, Surgery and Reproduction, 2nd edition, p. 1011", "Equine Clinical Medicine, p. 1085",
		"seen: Equine Clinical Medicine, p. 1002, and a case report", "survey of 15 horses, intracarotid injection",
		"Dechant, in Complications in Equine Surgery, ch. 3", "seen: Dechant, in Complications in Equine Surgery, ch. 3",
		"Complications in Equine Surgery", "Complications in Equine Surgery, excitement after an injection",
		"The Veterinary Care of the Horse, p. 1133",
		"Standardbreds from birth, plasma and red cells (abstract, scilit.com c423fccc)",
		"fluid needs in dehydrated horses, MSD Veterinary Manual", "SAEVA Proceedings 2015",
		// universities, extension, professional bodies, rules
		"University of Minnesota, College of Veterinary Medicine, Equine: body measurements",
		"IVIS, normal newborn foal (WEVA congress, Chile 2023)", "afterbirth: IVIS, normal newborn foal (WEVA congress, Chile 2023)",
		"FEI endurance trial rule 2019, as the New Zealand federation prints it: 64 within 20 min",
		"eXtension Horses, as printed at equinechronicle.com, is it too hot to trot",
		"FEI measures at Versailles 2024, equnews.com", "Equestrian Australia, hot weather policy",
		"jugular filling: University of Pennsylvania, perfusion", "what shows below 3 to 5 %: SAEVA Proceedings 2015",
		"Montana State University, blood collection in agricultural animals",
		"Pennsylvania State University, animal resource program, citing a table of the NC3Rs",
		"University of California, Davis, safety services: blood volumes (laboratory animals)",
		"University of Iowa, guidelines for blood collection (examples are rodents)",
		"Oregon State University, clotting samples", "University of Georgia, clinical pathology", "eclinpath.com", "Cornell University, hematology",
		"order: CLSI GP41, as applied to animals by City University Veterinary Diagnostic Laboratory, PT_CollectionTube",
		"AAEP, ask the vet: vaccinology", "AAEP, snake bite page", "live anthrax vaccine: AAEP, anthrax", "Extension Horses",
		"Washington State University, zoonoses of horses", "UC Davis, safety services", "UC Davis, horses and zoonoses",
		"cvmcatalog.lmunet.edu, protective actions", "NIST SP 811",
	)
	add(ranges.PracticePage,
		"a press page (myseniorhorse.com) on Carter et al., Vet J 2009", "Walker, assessment of the neonatal foal in the field, bova.vet 2023", "nursing: Lenz, AQHA 2016", "told from 3 h: Lenz, AQHA 2016 (Walker: from 4 h)",
		"a company's page on heart rate recovery in endurance horses (enduroequine.com)", "a shop's page for owners (drsfostersmith.com, article 1766)",
		"online text of an equine cardiology book, exercise (provet.co.uk)",
		"a contract laboratory quoting Diehl et al. 2001, altasciences.com", "Ball, Understanding Equine First Aid, at thehorse.com/152509",
		"where it lies: a practice (greenelewis.com)", "a practice's page on injection sites (atlantaequine.com)",
		"Thacker DVM, in a magazine (horsesdaily.com 2017)", "equineveterinaryservices.com", "label at drugs.com/vet",
		"mixing: an article for practices (equimanagement.com)", "the discard tube: a manual for people", "medical math, bestvetaustin.com",
	)
	add(ranges.CommonPractice,
		"common practice", "what to do first: common practice", "read on several pages, none of them kept by its name", "quiet rest and a second count, a common practice",
		"our own limit, as for the heart", "our own limit", "489 endurance horses: above 60 after the hold went with more eliminations (Equine Vet J Suppl 2002)",
		"our own: as long as the heart takes after hard work", "no source read",
		"4-H Horse Project 47, and other handling lists", "equisearch.com, holding a horse", "ofhorse.com", "ofhorse.com, holding your horse", "AQHA, horse safety rules",
		"handling lists", "handling lists: all forbid kneeling and sitting, some allow crouching", "the stricter one is held",
		"why: a hind kick caused 49 % of the worst injuries of 620 British equine vets (Parkin, Vet Rec 2018)",
		"Drexel University table, as quoted at en.wikipedia.org/wiki/Blood_volume",
		"marks of common syringes (figures of RMIT University, seen in a reprint)", "look at yours", "one page says 0.5",
		"how to set a paste syringe, 3dworming.co.uk and wormers-direct.co.uk", "arithmetic", "the drops a mL stand on the packet of the set",
	)
	add(ranges.FromMemory,
		"from memory", "not read", "Carter et al., Vet J 2009;179:204-210 (citation from memory)", "hands out of the mouth and the list from memory", "what to do first from memory",
		"lameness and what to do first: from memory", "the muscle between from memory", "where it runs from memory", "its sizes from memory",
		"seen: Complications in Equine Surgery, and pages of two clinics",
		"signs by percent as reprinted in equine critical-care chapters (Hardy, in Equine Internal Medicine), not read",
		"items: Roy et al., J Vet Intern Med 2017;31:582-592", "gum color and lactate added as in Nocera et al., Animals 2021;11:2015. The figures were not read",
		"BVA, FRAME, RSPCA and UFAW, 1993", "7 to 9 % of body weight, the low end", "one page says 0.5 for 10 mL", "some have 0.5", "some have 2",
	)
	return all
}
