# Writes late-incidence.json: shares by cause where lives come under watch late (left truncation).
# Run: Rscript tests/reference/late-incidence.R > tests/reference/late-incidence.json
# Data: the first patients of mgus2 of the package survival (open data that comes with it): months since the age of 65,
# under watch from diagnosis on, ended by plasma cell malignancy (1) or death without it (2); and a small made example.
#
# Shares and survival are those of survfit. Its error of a share by cause is the infinitesimal jackknife, which with late
# entries is not of Greenwood's type; that one is worked out here from its definition, as a recursion of matrices over
# event times (Allignol, Schumacher and Beyersmann 2010, from memory). For survival, Greenwood's error is that of survfit
# with a single kind of end.
suppressPackageStartupMessages(library(survival))

number <- function(x) sprintf("%.15g", x)
list_of <- function(x) paste0("[", paste(number(x), collapse = ", "), "]")
entry_of <- function(name, text) sprintf('"%s": %s', name, text)
object <- function(...) paste0("{ ", paste(c(...), collapse = ", "), " }")

# Covariance of the state probabilities (running, cause 1, cause 2): cov(P) grows by the multinomial covariance of each
# step and is carried through the step.
greenwood <- function(entry, exit, cause, times) {
  p <- c(1, 0, 0)
  v <- matrix(0, 3, 3)
  out <- NULL
  for (t in times) {
    at_risk <- sum(entry < t & exit >= t)
    h <- sapply(1:2, function(k) sum(exit == t & cause == k)) / at_risk
    step <- diag(3)
    step[1, ] <- c(1 - sum(h), h)
    multinomial <- (diag(step[1, ]) - outer(step[1, ], step[1, ])) / at_risk
    v <- t(step) %*% v %*% step + p[1]^2 * multinomial
    p <- as.vector(p %*% step)
    out <- rbind(out, c(p, sqrt(pmax(diag(v), 0))))
  }
  out
}

case <- function(name, entry, exit, cause) {
  curve <- survfit(Surv(entry, exit, factor(cause, 0:2)) ~ 1, id = seq_along(entry), timefix = FALSE)
  ends <- rowSums(curve$n.event) > 0
  times <- curve$time[ends]
  alone <- survfit(Surv(entry, exit, cause > 0) ~ 1, timefix = FALSE)
  among <- match(times, alone$time)
  own <- greenwood(entry, exit, cause, times)
  stopifnot(max(abs(own[, 1:3] - curve$pstate[ends, ])) < 1e-12)
  error <- (alone$surv * alone$std.err)[among]
  stopifnot(max(abs(own[, 4] - error)[alone$surv[among] > 0]) < 1e-12)
  entry_of(name, object(
    entry_of("entry", list_of(entry)), entry_of("exit", list_of(exit)), entry_of("cause", list_of(cause)),
    entry_of("time", list_of(times)), entry_of("atRisk", list_of(curve$n.risk[ends, 1])),
    entry_of("survival", list_of(curve$pstate[ends, 1])),
    entry_of("first", list_of(curve$pstate[ends, 2])), entry_of("firstError", list_of(own[, 5])),
    entry_of("second", list_of(curve$pstate[ends, 3])), entry_of("secondError", list_of(own[, 6]))
  ))
}

some <- mgus2[1:140, ]
cause <- ifelse(some$pstat == 1, 1, ifelse(some$death == 1, 2, 0))
months <- ifelse(some$pstat == 1, some$ptime, some$futime)
entry <- pmax(0, 12 * (some$age - 65))
exit <- 12 * (some$age - 65) + months
keep <- exit > entry
cat("{\n  ", paste(c(
  entry_of("versions", object(entry_of("R", sprintf('"%s"', getRversion())),
                              entry_of("survival", sprintf('"%s"', packageVersion("survival"))))),
  case("made", c(0, 0, 3, 5, 2, 0, 1, 4), c(4, 6, 9, 10, 8, 12, 6, 9), c(1, 2, 1, 0, 2, 1, 1, 0)),
  case("mgus2", entry[keep], exit[keep], cause[keep])
), collapse = ",\n  "), "\n}\n", sep = "")
