package server

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/jobs"
	"newelbook/views"
)

// access is who may open a route.
type access int

// Kinds of access.
const (
	anyone  access = iota // no account needed
	crew                  // whoever is signed in
	builder               // the builder alone
)

func (a access) admits(r jobs.Role) bool { return a != builder || r == jobs.RoleBuilder }

// handler answers one request, or says why it could not.
type handler func(c *gin.Context) error

// route is one address.
type route struct {
	method, path string
	who          access
	do           handler
	body         int64 // greatest length of the body in bytes; 0 is formBytes
}

// routes lists every address of the site.
func (s *server) routes() []route {
	get, post := http.MethodGet, http.MethodPost
	return []route{
		{method: get, path: "/", who: crew, do: s.home},
		{method: get, path: views.AssetRoot + "*name", who: anyone, do: s.showAsset},
		{method: get, path: "/setup/:token", who: anyone, do: s.showSetup},
		{method: post, path: "/setup/:token", who: anyone, do: s.saveSetup},
		{method: get, path: "/sign-in", who: anyone, do: s.showSignIn},
		{method: post, path: "/sign-in", who: anyone, do: s.signIn},
		{method: post, path: "/sign-out", who: anyone, do: s.signOut},
		{method: get, path: "/people", who: builder, do: s.showPeople},
		{method: post, path: "/people", who: builder, do: s.addPerson},

		{method: get, path: "/rules", who: builder, do: s.listRules},
		{method: get, path: "/rules/:set", who: builder, do: s.showRuleSet},

		{method: get, path: "/jobs", who: crew, do: s.listJobs},
		{method: get, path: "/jobs/new", who: builder, do: s.newJob},
		{method: post, path: "/jobs", who: builder, do: s.makeJob},
		{method: get, path: "/jobs/:job", who: crew, do: s.showJob},
		{method: get, path: "/jobs/:job/particulars", who: builder, do: s.showParticulars},
		{method: post, path: "/jobs/:job/particulars", who: builder, do: s.saveParticulars},
		{method: get, path: "/jobs/:job/specification", who: builder, do: s.showSpecification},
		{method: post, path: "/jobs/:job/specification", who: builder, do: s.saveSpecification},
		{method: get, path: "/jobs/:job/rules", who: crew, do: s.showRules},
		{method: post, path: "/jobs/:job/amendments", who: builder, do: s.amend},
		{method: post, path: "/jobs/:job/withdrawals", who: builder, do: s.withdraw},

		{method: get, path: "/jobs/:job/runs/new", who: builder, do: s.newRun},
		{method: post, path: "/jobs/:job/runs", who: builder, do: s.makeRun},
		{method: get, path: "/jobs/:job/runs/:run/edit", who: builder, do: s.editRun},
		{method: post, path: "/jobs/:job/runs/:run", who: builder, do: s.saveRun},
		{method: post, path: "/jobs/:job/runs/:run/retired", who: builder, do: s.retireRun},
		{method: get, path: "/jobs/:job/runs", who: crew, do: s.listRuns},
		{method: get, path: "/jobs/:job/materials", who: crew, do: s.listMaterials},
		{method: get, path: "/jobs/:job/materials/order.csv", who: crew, do: s.orderCSV},
		{method: post, path: "/jobs/:job/materials/ticks", who: crew, do: s.tickPiece},
		{method: post, path: "/jobs/:job/materials/boards", who: crew, do: s.cutBoard},
		{method: post, path: "/jobs/:job/materials/on-hand", who: crew, do: s.addOnHand},
		{method: post, path: "/jobs/:job/materials/on-hand/:stock", who: crew, do: s.withdrawOnHand},
		{method: get, path: "/jobs/:job/runs/:run", who: crew, do: s.showRun},
		{method: get, path: "/jobs/:job/runs/:run/sheet", who: crew, do: s.showRunSheet},
		{method: get, path: "/jobs/:job/runs/:run/framing", who: crew, do: s.showRunFraming},
		{method: get, path: "/jobs/:job/runs/:run/strips/:bay/:which", who: crew, do: s.showStrip},
		{method: get, path: "/jobs/:job/runs/:run/cover", who: crew, do: s.showCover},
		{method: post, path: "/jobs/:job/runs/:run/cover", who: crew, do: s.saveCover},
		{method: get, path: "/jobs/:job/runs/:run/cover/photos", who: crew, do: s.showPhotoCover},

		{method: get, path: "/jobs/:job/stages/:stage", who: crew, do: s.showStage},
		{method: get, path: "/jobs/:job/stages/:stage/ask", who: crew, do: s.askStage},
		{method: post, path: "/jobs/:job/stages/:stage/closing", who: crew, do: s.closeStage},
		{method: post, path: "/jobs/:job/stages/:stage/reopening", who: builder, do: s.reopenStage},
		{method: post, path: "/jobs/:job/readings", who: crew, do: s.takeReadings},
		{method: get, path: "/jobs/:job/check", who: crew, do: s.showCheck},
		{method: post, path: "/jobs/:job/same", who: crew, do: s.sameRest},

		{method: get, path: "/jobs/:job/slate", who: crew, do: s.showSlate},
		{method: get, path: "/jobs/:job/photos", who: crew, do: s.listPhotos},
		{method: get, path: "/jobs/:job/photos/filing", who: crew, do: s.showFiling},
		{method: post, path: "/jobs/:job/photos/filing", who: crew, do: s.fileBatch},
		{method: get, path: "/jobs/:job/photos/tags", who: crew, do: s.showTags},
		{method: get, path: "/jobs/:job/photos/tags/" + views.TagFile, who: crew, do: s.showTagFile},
		{method: get, path: "/jobs/:job/photos/new", who: crew, do: s.newPhotos},
		{method: post, path: "/jobs/:job/photos", who: crew, do: s.addPhotos, body: uploadBytes},
		{method: get, path: "/jobs/:job/photos/:photo", who: crew, do: s.showPhoto},
		{method: post, path: "/jobs/:job/photos/:photo", who: crew, do: s.filePhoto},
		{method: post, path: "/jobs/:job/photos/:photo/marks", who: crew, do: s.markPhoto},
		{method: get, path: "/jobs/:job/photos/:photo/marked", who: crew, do: s.showMarked},
		{method: get, path: "/jobs/:job/photos/:photo/original", who: crew, do: s.showOriginal},
		{method: get, path: "/jobs/:job/photos/:photo/view", who: crew, do: s.showView},
		{method: get, path: "/jobs/:job/photos/:photo/thumb", who: crew, do: s.showThumb},
		{method: get, path: "/jobs/:job/diary", who: crew, do: s.listDiary},
		{method: get, path: "/jobs/:job/diary/:day", who: crew, do: s.showDiary},
		{method: post, path: "/jobs/:job/diary/:day", who: crew, do: s.saveDiary},
		{method: get, path: "/jobs/:job/deviations", who: crew, do: s.listDeviations},
		{method: get, path: "/jobs/:job/deviations/new", who: crew, do: s.newDeviation},
		{method: post, path: "/jobs/:job/deviations/new", who: crew, do: s.openDeviation},
		{method: get, path: "/jobs/:job/deviations/:dev", who: crew, do: s.showDeviation},
		{method: post, path: "/jobs/:job/deviations/:dev", who: builder, do: s.endDeviation},
		{method: get, path: "/jobs/:job/papers", who: crew, do: s.listPapers},
		{method: get, path: "/jobs/:job/papers/new", who: crew, do: s.newPaper},
		{method: post, path: "/jobs/:job/papers", who: crew, do: s.addPaper, body: uploadBytes},
		{method: get, path: "/jobs/:job/papers/:paper", who: crew, do: s.showPaper},
		{method: post, path: "/jobs/:job/papers/:paper", who: builder, do: s.describePaper},
		{method: post, path: "/jobs/:job/papers/:paper/withdrawal", who: builder, do: s.withdrawPaper},
		{method: get, path: "/jobs/:job/papers/:paper/file", who: crew, do: s.showPaperFile},
		{method: get, path: "/jobs/:job/papers/:paper/view", who: crew, do: s.showPaperView},
		{method: get, path: "/jobs/:job/packs", who: crew, do: s.listPacks},
		{method: post, path: "/jobs/:job/packs", who: builder, do: s.issuePack},
		{method: get, path: "/jobs/:job/packs/issuing", who: crew, do: s.showIssuing},
		{method: get, path: "/jobs/:job/packs/:number/pack.pdf", who: crew, do: s.showPackPDF},
		{method: get, path: "/jobs/:job/packs/:number/pack.zip", who: crew, do: s.showPackZIP},
		{method: get, path: "/jobs/:job/packs/:number/pack/*name", who: crew, do: s.readPack},
		{method: post, path: "/jobs/:job/links", who: builder, do: s.makeLink},
		{method: post, path: "/jobs/:job/links/:link/revoked", who: builder, do: s.revokeLink},
		{method: get, path: "/jobs/:job/record", who: crew, do: s.showRecord},

		{method: get, path: "/g/:token", who: anyone, do: s.guests(s.showGuest)},
		{method: get, path: "/g/:token/pack.pdf", who: anyone, do: s.guests(s.guestPDF)},
		{method: get, path: "/g/:token/pack.zip", who: anyone, do: s.guests(s.guestZIP)},
		{method: get, path: "/g/:token/pack/*name", who: anyone, do: s.guests(s.guestRead)},
		{method: post, path: "/g/:token/answers", who: anyone, do: s.guests(s.answerPack)},
		{method: get, path: "/g/:token/receipts/:answer", who: anyone, do: s.guests(s.showReceipt)},
	}
}

// home leads to the jobs.
func (s *server) home(c *gin.Context) error { return s.done(c, "/jobs", "") }

// showAsset sends a style sheet, script, font or picture of the program's own. Its name has a checksum, so it may be kept
// for ever.
func (s *server) showAsset(c *gin.Context) error {
	body, kind, ok := views.Asset(c.Request.URL.Path)
	if !ok {
		return jobs.ErrNotFound
	}
	c.Header("Cache-Control", "public, max-age=31536000, immutable")
	c.Data(http.StatusOK, kind, body)
	return nil
}
