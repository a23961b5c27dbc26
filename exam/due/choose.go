package due

import "loosebox/exam"

// choose picks the row of a disease that fits the horse and its doses, and sets
// the doses beside it.
func (t *Table) choose(s *subject, disease string, doses []GivenDose) (ScheduleRow, standing, bool) {
	// What began as a foal goes on as a foal's series until it is whole.
	primed := s.primed(doses)
	if row, ok := t.row(disease, s.foalGroups(doses)); ok && s.youngSeries(doses) {
		stand := s.count(row, doses)
		if !stand.done() || s.foal {
			return row, stand, true
		}
		primed = true
	}
	if s.mare {
		if row, ok := t.row(disease, []string{"broodmare"}); ok && row.Again.Base == Pregnancy {
			return s.pregnancy(row, doses)
		}
	}
	first, ok := t.row(disease, s.adultGroups(doses, false))
	if !ok {
		return ScheduleRow{}, standing{}, false
	}
	stand := s.count(first, doses)
	switch {
	case primed:
		stand.says = nil
	case !stand.done():
		return first, stand, true
	}
	// Vaccinated: the repeat row, with the doses as they are.
	repeat, ok := t.row(disease, s.adultGroups(doses, true))
	if !ok {
		repeat = first
	}
	again := standing{row: repeat, counted: doses, last: &doses[len(doses)-1], says: stand.says}
	if stand.last != nil && len(stand.counted) >= first.Doses {
		again.last = stand.last
	}
	again.row.Doses = min(again.row.Doses, len(doses))
	return repeat, again, true
}

// pregnancy counts the doses of this pregnancy only.
func (s *subject) pregnancy(row ScheduleRow, doses []GivenDose) (ScheduleRow, standing, bool) {
	if !s.knowFoaling {
		return row, standing{row: row}, true
	}
	now := s.inPregnancy(doses)
	stand := s.count(row, now)
	if stand.done() {
		stand.say("the doses of this pregnancy are given")
	}
	return row, stand, true
}

// primed says that the papers show a whole first series.
func (s *subject) primed(doses []GivenDose) bool {
	for _, d := range doses {
		if d.SeriesDone {
			return true
		}
	}
	return false
}

// youngSeries says that the horse is a foal, or that its first dose was given
// before it was a year old.
func (s *subject) youngSeries(doses []GivenDose) bool {
	if s.foal {
		return true
	}
	return len(doses) > 0 && s.knownBirth && doses[0].Latest.Before(addMonths(s.born, 12)) && !s.primed(doses)
}

// row finds the first of some groups that the table has for a disease.
func (t *Table) row(disease string, groups []string) (ScheduleRow, bool) {
	for _, g := range groups {
		for i := range t.rows {
			if r := &t.rows[i]; r.Disease == disease && r.Group == g {
				return *r, true
			}
		}
	}
	return ScheduleRow{}, false
}

func nasal(doses []GivenDose) bool {
	return len(doses) > 0 && doses[len(doses)-1].Route == exam.RouteNose
}

func (s *subject) foalGroups(doses []GivenDose) []string {
	dam := "foal_of_vaccinated"
	if s.unvaccDam {
		dam = "foal_of_unvaccinated"
	}
	form := "foal_killed_IM"
	if nasal(doses) {
		form = "foal_live_intranasal"
	}
	groups := []string{dam, form, "foal", "adult_or_foal"}
	if s.horse.Sex.Entire() {
		groups = append(groups, "colt")
	}
	return groups
}

// adultGroups are the groups of a grown horse, the nearest first.
func (s *subject) adultGroups(doses []GivenDose, vaccinated bool) []string {
	var groups []string
	forms := []string{"adult_unvaccinated_inactivated", "adult_killed_IM"}
	if nasal(doses) {
		forms = []string{"adult_unvaccinated_MLV_intranasal", "adult_live_intranasal"}
	}
	switch {
	case s.mare && vaccinated:
		groups = []string{"broodmare_vaccinated", "broodmare", "adult_vaccinated"}
	case s.mare:
		groups = []string{"broodmare_unvaccinated", "broodmare", "adult_unvaccinated"}
	case vaccinated:
		groups = []string{"adult_vaccinated"}
	default:
		groups = []string{"adult_unvaccinated"}
	}
	groups = append(groups, forms...)
	switch s.horse.Sex {
	case exam.Stallion, exam.Colt:
		groups = append(groups, "stallion")
	case exam.Mare, exam.Filly:
		groups = append(groups, "mare")
	case exam.Gelding, exam.SexUnknown:
	}
	groups = append(groups, "adult", "adult_or_foal", "adult_vaccinated")
	return groups
}
