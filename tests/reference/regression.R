# Writes regression.json: ordinary least squares by R lm on two open sets of data about the wear of rubber and tires.
# Run: Rscript tests/reference/regression.R > tests/reference/regression.json
# Rubber: abrasion loss (g/h), hardness (Shore) and tensile strength (kg/cm2) of 30 specimens, Davies and Goldsmith, as in
#   the R package MASS (values read there). TireWear: tread life (1000 miles) of 16 tires by weight and by groove depth,
#   Stichler, Richey and Mandel, Rubber Age 73:2 (1953), as in the R package fastR2 (values from memory).
list_of <- function(x) paste0("[", paste(sprintf("%.15g", x), collapse = ", "), "]")
entry <- function(name, text) sprintf('"%s": %s', name, text)
object <- function(...) paste0("{ ", paste(c(...), collapse = ", "), " }")

rubber <- list(
  loss = c(372, 206, 175, 154, 136, 112, 55, 45, 221, 166, 164, 113, 82, 32, 228, 196, 128, 97, 64, 249, 219, 186, 155, 114,
           341, 340, 283, 267, 215, 148),
  hard = c(45, 55, 61, 66, 71, 71, 81, 86, 53, 60, 64, 68, 79, 81, 56, 68, 75, 83, 88, 59, 71, 80, 82, 89, 51, 59, 65, 74,
           81, 86),
  tens = c(162, 233, 232, 231, 231, 237, 224, 219, 203, 189, 210, 210, 196, 180, 200, 173, 188, 161, 119, 161, 151, 165, 151,
           128, 161, 146, 148, 144, 134, 127))
tires <- list(
  weight = c(45.9, 41.9, 37.5, 33.4, 31.0, 30.5, 30.9, 31.9, 30.4, 27.3, 20.4, 24.5, 20.9, 18.9, 13.7, 11.4),
  groove = c(35.7, 39.2, 31.1, 28.1, 24.0, 28.7, 25.9, 23.3, 23.1, 23.7, 20.9, 16.1, 19.9, 15.2, 11.5, 11.2))

case <- function(name, response, regressors) {
  fit <- lm(response ~ ., data = cbind(response = response, as.data.frame(regressors)))
  sum <- summary(fit)
  entry(name, object(
    entry("response", list_of(response)),
    entry("regressors", paste0("[", paste(sapply(regressors, list_of), collapse = ", "), "]")),
    entry("coefficients", list_of(coef(fit))), entry("errors", list_of(sum$coefficients[, 2])),
    entry("covariance", list_of(vcov(fit))),
    entry("residualDeviation", sprintf("%.15g", sum$sigma)), entry("degrees", fit$df.residual),
    entry("rSquared", sprintf("%.15g", sum$r.squared))))
}

cat("{\n  ", paste(c(
  entry("versions", object(entry("R", sprintf('"%s"', getRversion())))),
  case("rubber", rubber$loss, rubber[c("hard", "tens")]),
  case("tires", tires$groove, tires["weight"])
), collapse = ",\n  "), "\n}\n", sep = "")
