# Writes life-fits.json: life fits by the R package survival, and by likelihoods written out here where it has none.
# Run: Rscript tests/reference/life-fits.R > tests/reference/life-fits.json
# Data: lung, ovarian, veteran and heart of the package survival (open data that comes with it).
suppressPackageStartupMessages(library(survival))

number <- function(x) ifelse(is.infinite(x), ifelse(x > 0, '"Infinity"', '"-Infinity"'), sprintf("%.15g", x))
list_of <- function(x) paste0("[", paste(number(x), collapse = ", "), "]")
entry <- function(name, text) sprintf('"%s": %s', name, text)
object <- function(...) paste0("{ ", paste(c(...), collapse = ", "), " }")

tight <- survreg.control(rel.tolerance = 1e-12, maxiter = 200)
fit_of <- function(surv, dist) {
  fit <- survreg(surv ~ 1, dist = dist, control = tight)
  scale <- exp(unname(coef(fit)))
  shape <- if (dist == "weibull") 1 / fit$scale else fit$scale
  object(entry("scale", number(scale)), entry("shape", number(shape)), entry("logLikelihood", number(fit$loglik[1])))
}

# Bounds of the shape where twice the log-likelihood falls by the 95 % quantile of chi-square: survreg with spread held.
shape_bounds <- function(surv, dist) {
  fit <- survreg(surv ~ 1, dist = dist, control = tight)
  fall <- function(log_spread) {
    held <- survreg(surv ~ 1, dist = dist, scale = exp(log_spread), control = tight)
    2 * (fit$loglik[1] - held$loglik[1]) - qchisq(0.95, 1)
  }
  at <- log(fit$scale)
  narrow <- exp(uniroot(fall, c(at - 2, at), tol = 1e-12)$root)
  wide <- exp(uniroot(fall, c(at, at + 2), tol = 1e-12)$root)
  if (dist == "weibull") c(1 / wide, 1 / narrow) else c(narrow, wide)
}

# Bounds of a quantile of the life: with ln(quantile) held, one parameter is left.
quantile_bounds <- function(from, to, law, chance) {
  survive <- function(z) if (law == "weibull") -exp(z) else pnorm(z, lower.tail = FALSE, log.p = TRUE)
  density <- function(z) if (law == "weibull") z - exp(z) else dnorm(z, log = TRUE)
  w <- if (law == "weibull") log(-log1p(-chance)) else qnorm(chance)
  value <- function(location, spread) {
    z <- (log(from) - location) / spread
    exact <- from == to
    sum(density(z[exact]) - log(spread) - log(from[exact])) + sum(survive(z[!exact]))
  }
  profile <- function(log_quantile) {
    optimize(function(s) value(log_quantile - exp(s) * w, exp(s)), c(-4, 3), maximum = TRUE, tol = 1e-12)$objective
  }
  grid <- seq(log(min(from)) - 1, log(max(from)) + 3, length.out = 400)
  at <- optimize(profile, c(grid[1], grid[400]), maximum = TRUE, tol = 1e-10)
  fall <- function(x) 2 * (at$objective - profile(x)) - qchisq(0.95, 1)
  exp(c(at$maximum, uniroot(fall, c(at$maximum - 2, at$maximum), tol = 1e-11)$root,
        uniroot(fall, c(at$maximum, at$maximum + 2), tol = 1e-11)$root))
}

case <- function(name, from, to, with_quantile = FALSE) {
  surv <- Surv(ifelse(from == 0, NA, from), ifelse(is.infinite(to), NA, to), type = "interval2")
  parts <- c(entry("from", list_of(from)), entry("to", list_of(to)))
  for (dist in c("weibull", "lognormal")) {
    parts <- c(parts, entry(dist, fit_of(surv, dist)),
               entry(paste0(dist, "ShapeBounds"), list_of(shape_bounds(surv, dist))))
    if (with_quantile) {
      parts <- c(parts, entry(paste0(dist, "B10"), list_of(quantile_bounds(from, to, dist, 0.1))))
    }
  }
  if (all(from == to | is.infinite(to))) {
    curve <- survfit(Surv(from, !is.infinite(to)) ~ 1)
    ends <- curve$n.event > 0
    parts <- c(parts, entry("time", list_of(curve$time[ends])), entry("survival", list_of(curve$surv[ends])))
  } else {
    # The EM steps of survfit stop early: its curve bounds the greatest likelihood from below.
    curve <- summary(survfit(surv ~ 1), times = sort(unique(c(from, to[is.finite(to)]))), extend = TRUE)
    at <- function(t) ifelse(is.infinite(t), 0, ifelse(t <= 0, 1, curve$surv[match(t, curve$time)]))
    parts <- c(parts, entry("curveLogLikelihood", number(sum(log(at(from) - at(to))))))
  }
  entry(name, object(parts))
}

ended <- function(time, status) list(from = time, to = ifelse(status == 1, time, Inf))
lung_lives <- ended(lung$time, lung$status - 1)
ovarian_lives <- ended(ovarian$futime, ovarian$fustat)
# As if seen at visits every 60 days: ends between visits, before the first, or after the last.
visits <- 60
seen <- list(from = floor(lung$time / visits) * visits,
             to = ifelse(lung$status == 2, (floor(lung$time / visits) + 1) * visits, Inf))
keep <- !(seen$from == 0 & is.infinite(seen$to))
# As if visits came at different days for each, so that ranges overlap.
first <- 20 + 7 * (seq_along(veteran$time) %% 9)
step <- 30 + 11 * (seq_along(veteran$time) %% 4)
before <- floor((veteran$time - first) / step)
apart <- list(from = pmax(0, first + before * step), to = first + (before + 1) * step)
apart$to[veteran$status == 0] <- Inf
apart$from[veteran$status == 0] <- veteran$time[veteran$status == 0]

# Delayed entry: time since acceptance in the heart data, without covariates.
heart_curve <- survfit(Surv(start, stop, event) ~ 1, data = heart, timefix = FALSE)
heart_parts <- c(entry("entry", list_of(heart$start)), entry("exit", list_of(heart$stop)),
                 entry("event", list_of(heart$event)), entry("time", list_of(heart_curve$time[heart_curve$n.event > 0])),
                 entry("survival", list_of(heart_curve$surv[heart_curve$n.event > 0])))
# Left truncation, likelihood written out: log f or log S at the exit less log S at the entry.
truncated <- function(law, entry_at, exit_at, event) {
  survive <- function(t, p) if (law == "weibull") -(t / exp(p[1]))^exp(p[2]) else
    plnorm(t, p[1], exp(p[2]), lower.tail = FALSE, log.p = TRUE)
  density <- function(t, p) if (law == "weibull") dweibull(t, exp(p[2]), exp(p[1]), log = TRUE) else
    dlnorm(t, p[1], exp(p[2]), log = TRUE)
  value <- function(p) -sum(ifelse(event == 1, density(exit_at, p), survive(exit_at, p)) -
                              ifelse(entry_at > 0, survive(pmax(entry_at, 1e-300), p), 0))
  start <- optim(c(log(median(exit_at)), 0), value, control = list(reltol = 1e-15, maxit = 5000))
  best <- nlm(value, start$par, gradtol = 1e-12, steptol = 1e-14, iterlim = 1000)
  object(entry("scale", number(exp(best$estimate[1]))), entry("shape", number(exp(best$estimate[2]))),
         entry("logLikelihood", number(-best$minimum)))
}
late_entry <- ifelse(seq_along(veteran$time) %% 3 == 0, pmin(25, 0.5 * veteran$time), 0)
late_parts <- c(entry("entry", list_of(late_entry)), entry("exit", list_of(veteran$time)),
                entry("event", list_of(veteran$status)),
                entry("weibull", truncated("weibull", late_entry, veteran$time, veteran$status)),
                entry("lognormal", truncated("lognormal", late_entry, veteran$time, veteran$status)))

cat("{\n  ", paste(c(
  entry("versions", object(entry("R", sprintf('"%s"', getRversion())),
                           entry("survival", sprintf('"%s"', packageVersion("survival"))))),
  case("lung", lung_lives$from, lung_lives$to, TRUE),
  case("ovarian", ovarian_lives$from, ovarian_lives$to, TRUE),
  case("lungAtVisits", seen$from[keep], seen$to[keep]),
  case("veteranAtVisits", apart$from, apart$to),
  entry("heart", object(heart_parts)),
  entry("veteranLate", object(late_parts))
), collapse = ",\n  "), "\n}\n", sep = "")
