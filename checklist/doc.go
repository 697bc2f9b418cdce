// Package checklist holds what is to be verified on a guard job and compares what was measured with what was computed.
//
// Callers start with Generate (the checks of one run, from its layout, specification and rule set), GenerateJob (the
// checks of the job as a whole), CheckAnswer (whether an answer can be taken at all) and Evaluate (what one reading came to).
//
// Invariants: a zero Answer is NotChecked and nothing unmeasured is ever good; the result against a code limit and the
// result against the layout are kept apart; where several limits bind, the worst governs, whatever their order; moving a
// reading further past a limit never betters its result against it; every Result says in one sentence what it was held to.
// Check ids are permanent: the place's id, a dot, and the catalogue key.
//
// It deliberately holds no code figure of its own: limits come from package codes with their clause and standing, and a
// figure that the rule set lacks gives no limit. It keeps nothing, reads no clock, and never says that a job complies.
//
// Test it with: go test ./checklist (add -update to write the golden catalogues again).
package checklist
