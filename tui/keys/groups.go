package keys

// Group is the bindings of one kind of screen, for the printed table.
type Group struct {
	Title    string
	Bindings []Binding
}

// Groups lists every binding of the program by the kind of screen on which it works.
func Groups() []Group {
	return []Group{
		{"everywhere", []Binding{Back(), Help(), Watched(), Leave()}},
		{"lists", []Binding{Up(), PageDown(), Choose(), Digit(), FindHorse(), New(), Round(), Due(), CheckAgain(), Episode(), Compare(), QuickCount(), Sums(), Settings(), Settle(), Arrived(), Joined()}},
		{"a horse", []Binding{Begin(), Compare(), Dose(), Edit(), Due(), QuickCount(), Sums()}},
		{"sums", []Binding{Digit(), Source()}},
		{"the round", []Binding{
			Choose(), PickHorse(), Begin(), Seen(), LeaveOut(), HandOver(), HandAll(), InTurn(), Source(), Left().With("day", "see the round of the day before or after"),
		}},
		{"the exam", []Binding{Accept(), Usual(), AllUsual(), RestUsual(), NotDone(), Write(), How(), Source(), Later(), Earlier(), Order(), Review(), QuickCount(), Sums(), Left()}},
		{"the order of a routine", []Binding{MoveGroups(), TakeUp(), Up(), SaveOrder()}},
		{"counting and timing", []Binding{Tap(), TakeBack(), ByEar(), Timer(), TakeMeant()}},
		{"marks", []Binding{Mark()}},
		{"scores", []Binding{Digit().With("score", "choose a score by its digit"), Half(), Left().With("by part", "score the parts of a score, or its total at once")}},
		{"the review", []Binding{Accept().With("go there", "go to the step under the cursor and come back"), Source(), Compare(), CheckAgain(), Episode(), Finish(), SignOff(), AddLater(), Strike()}},
		{"after the exam", []Binding{After(), Choose().With("open", "open the line under the cursor; a locked one says why"), Review(), Record()}},
		{"injection, blood draw and observation", []Binding{
			Letters(), Accept(), Digit(), Up(), Dangers(), Cautions(), Understood(), NotDone().With("not done", "save that it was stopped or not given, and why"),
		}},
		{"marks of a rehearsal", []Binding{Source().With("why", "how the mark under the cursor is made"), Keep(), NewRehearsal()}},
		{"a rehearsal", []Binding{Rehearse(), Listen(), Progress(), Class(), Tour()}},
		{"rehearsals over time", []Binding{Left().With("measure", "go to another measure: it is drawn below"), Everybody(), OneRoutine()}},
		{"comparison and trend", []Binding{Left(), Up(), Choose().With("trend", "show the finding under the cursor over time"), EveryRow(), Together(), Source()}},
	}
}
