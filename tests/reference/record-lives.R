# Writes record-lives.json: life curve and shares by cause of lives of which some came under watch late, by the R package
# survival. Run: Rscript tests/reference/record-lives.R > tests/reference/record-lives.json
# Data: lung of the package survival (open data that comes with it). Every third life of more than 100 days is taken to have
# come under watch at 60; deaths of men and women stand for two causes.
suppressPackageStartupMessages(library(survival))

number <- function(x) ifelse(is.na(x), "null", sprintf("%.15g", x))
list_of <- function(x) paste0("[", paste(number(x), collapse = ", "), "]")
entry <- function(name, text) sprintf('"%s": %s', name, text)
object <- function(...) paste0("{ ", paste(c(...), collapse = ", "), " }")

time <- lung$time
entry_at <- ifelse(seq_along(time) %% 3 == 0 & time > 100, 60, 0)
cause <- ifelse(lung$status == 2, lung$sex, 0)

curve <- survfit(Surv(entry_at, time, cause > 0) ~ 1, conf.type = "log-log")
at <- quantile(curve, c(0.1, 0.5, 0.9))
half_year <- summary(curve, times = 183)
states <- factor(cause, 0:2, c("censored", "first", "second"))
incidence <- summary(survfit(Surv(entry_at, time, states) ~ 1, id = seq_along(time)), times = 365)

cat(object(
  entry("versions", object(
    entry("R", sprintf('"%s.%s"', R.version$major, R.version$minor)),
    entry("survival", sprintf('"%s"', packageVersion("survival"))))),
  entry("entry", list_of(entry_at)), entry("time", list_of(time)), entry("cause", list_of(cause)),
  entry("quantiles", list_of(at$quantile)), entry("lower", list_of(at$lower)), entry("upper", list_of(at$upper)),
  entry("runningAt183", list_of(c(half_year$surv, half_year$lower, half_year$upper, half_year$std.err))),
  entry("incidenceAt365", list_of(incidence$pstate[1, 2:3]))), "\n", sep = "")
