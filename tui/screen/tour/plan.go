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
		taskChoose:  {"choose", "Read what is seen. Choose with up/down or a digit, then enter: an answer is on the disk at once."},
		taskUsual:   {"usual", "Looked, and nothing is there? u says usual at one nostril, a at both."},
		taskLater:   {"later", "tab leaves this open and goes on. At the left it keeps its - till it is answered."},
		taskTap:     {"tap", "space at each beat of the block until the rate is firm, 15 s at least; enter takes it."},
		taskOrder:   {"order", "One was left: o, up to it, enter, and answer it. Then you are back here."},
		taskNotDone: {"not done", "It will not be touched there: x, a reason, enter. Then comes the review: f, enter closes."},
	}
}
