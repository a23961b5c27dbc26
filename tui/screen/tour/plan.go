package tour

import (
	"loosebox/exam"
	"loosebox/exam/steps"
)

// The places of the tour.
const (
	stepChoose  exam.StepID = "demeanour"
	stepUsual   exam.StepID = "nose.discharge"
	stepLater   exam.StepID = "jugular.fill"
	stepTap     exam.StepID = "heart.rate"
	stepNotDone exam.StepID = "node.jaw"
)

// short is the routine that is rehearsed at the end, with the horse of the tour.
const (
	short     = "tpr-recheck"
	shortCase = "clover"
	shortSeed = 4
)

// routine is the short way round of the tour.
func routine() exam.Routine {
	one := []exam.Site{exam.NoSite}
	return exam.Routine{
		Name: "tour", Title: "Tour", About: "every key of an exam, once",
		Asks: []exam.Ask{
			{Step: stepChoose, Sites: one, Heading: "the tour"},
			{Step: stepUsual, Sites: []exam.Site{exam.Left, exam.Right}},
			{Step: stepLater, Sites: one},
			{Step: stepTap, Sites: one},
			{Step: stepNotDone, Sites: one},
		},
	}
}

// shortTitle is the name of the routine of the end as screens have it.
func shortTitle(routines []exam.Routine) string {
	if r, ok := steps.Find(routines, short); ok {
		return r.Title
	}
	return short
}

// task is one thing to try: what it is called and what to press.
type task struct {
	name  string
	words string
}

// Tasks in the order of the tour; the numbers are those of the coach.
const (
	taskChoose = iota
	taskUsual
	taskLater
	taskTap
	taskOrder
	taskNotDone
)

func tasks() []task {
	return []task{
		taskChoose:  {"choose", "Read what is seen. Choose with up/down or a digit, then enter. It is saved at once."},
		taskUsual:   {"usual", "Looked, and nothing is there? u says usual at one nostril, a at both."},
		taskLater:   {"later", "tab goes to the next step. At the left this one keeps its - until it is answered."},
		taskTap:     {"tap", "Press space at each beat until the rate is steady, at least 15 s. enter saves it."},
		taskOrder:   {"order", "One step is to do. Press o, go up to it, enter, and answer it."},
		taskNotDone: {"not done", "The horse refuses: press x, choose a reason, enter. Then the review: f, enter closes."},
	}
}
