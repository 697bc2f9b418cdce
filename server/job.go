package server

import (
	"net/http"

	"github.com/gin-gonic/gin"

	"newelbook/views"
)

func (s *server) listJobs(c *gin.Context) error {
	list, err := s.Service.Jobs(c.Request.Context())
	if err != nil {
		return err
	}
	return s.show(c, http.StatusOK, views.NewJobList(s.frame(c, "Jobs"), list, s.isBuilder(c)))
}
