# Recipe of the figures that BetaBinomialFitTest compares with: R 4.2.2, VGAM 1.1-7, 30 November 2026. Run by hand: Rscript bench/peers/betabinomial.R
suppressMessages(library(VGAM))
fit <- function(y, n) {
  m <- vglm(cbind(y, n - y) ~ 1, betabinomialff, trace = FALSE, epsilon = 1e-10, maxit = 200)
  ab <- Coef(m); l <- function(p) -sum(lbeta(exp(p[1]) + y, exp(p[2]) + n - y) - lbeta(exp(p[1]), exp(p[2])) + lchoose(n, y))
  o <- nlm(l, log(ab), gradtol = 1e-10, steptol = 1e-12); a <- exp(o$estimate)
  cat("VGAM", format(c(ab, logLik(m)), digits = 10), " nlm", format(c(a, a[1] / sum(a), sum(a), -o$minimum), digits = 10), "\n")
}
y <- c(0,0,0,0,0,0,0,0,0,0,0,0,0,0,1,1,1,1,1,1,1,1,2,2,2,2,2,2,2,2,2,1,5,2,5,3,2,7,7,3,3,2,9,10,4,4,4,4,4,4,4,10,4,4,4,5,11,12,5,5,6,5,6,6,6,6,16,15,15,9,4)
n <- c(20,20,20,20,20,20,20,19,19,19,19,18,18,17,20,20,20,20,19,19,18,18,25,24,23,20,20,20,20,20,20,10,49,19,46,27,17,49,47,20,20,13,48,50,20,20,20,20,20,20,20,48,19,19,19,22,46,49,20,20,23,19,22,20,20,20,52,46,47,24,14)
fit(y, n); fit(y[-71], n[-71])
fit(c(13,12,9,9,8,8,12,11,9,9,8,11,4,5,7,7), c(13,12,9,9,8,8,13,12,10,10,9,13,5,7,10,10))
fit(c(12,11,10,9,10,9,9,8,8,4,7,4,5,3,3,0), c(12,11,10,9,11,10,10,9,9,5,9,7,10,6,10,7))
