package layout

// Groups of the fields that are the job's alone.
const (
	GroupSpares = "Spares"
	GroupCarry  = "Carrying"
)

// jobFields are those that a run cannot have otherwise.
func jobFields() []Field {
	percent := func(key, label string, at func(*Spec) *int) Field {
		return Field{Key: key, Group: GroupSpares, Label: label, Hint: "Percent of the count, rounded up; empty is none.", Kind: KindCount, Optional: true, Job: true,
			spec: func(s *Spec) slot { return slot{count: at(s)} }}
	}
	return []Field{
		{Key: "spare_boards", Group: GroupSpares, Label: "Spare boards of each section", Hint: "Of the longest length that is bought; empty is none.", Kind: KindCount, Optional: true, Job: true,
			spec: func(s *Spec) slot { return slot{count: &s.SpareBoards} }},
		percent("spare_counted", "Spare balusters and sleeves, percent", func(s *Spec) *int { return &s.SpareCounted }),
		percent("spare_hardware", "Spare hardware, percent", func(s *Spec) *int { return &s.SpareHardware }),
		{Key: "carry_alone", Group: GroupCarry, Label: "Two people carry more than", Hint: "A removable length that weighs more is marked; empty is 45 lb (20 kg).", Kind: KindWeight, Optional: true, Job: true,
			Source: practice, spec: func(s *Spec) slot { return slot{weight: &s.CarryAlone} }},
	}
}

// Percent is n hundredths of a count, rounded up.
func Percent(count, n int) int { return (count*n + 99) / 100 }
