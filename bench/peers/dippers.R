# Recipe of the figures that CormackJollySeberTest compares with: R 4.2.2, no package, 30 November 2026. Run by hand: Rscript bench/peers/dippers.R
# The likelihood is written out here from the table of releases (Lebreton et al. 1992), apart from the project's own code.
R <- c(22, 60, 78, 80, 88, 98)
M <- rbind(c(11,2,0,0,0,0), c(0,24,1,0,0,0), c(0,0,34,2,0,0), c(0,0,0,45,1,2), c(0,0,0,0,51,0), c(0,0,0,0,0,52))
deviance <- function(phi, p) {
  total <- 0
  for (i in 1:6) {
    cell <- numeric(6)
    for (j in i:6) cell[j] <- prod(phi[i:j]) * (if (j > i) prod(1 - p[i:(j - 1)]) else 1) * p[j]
    total <- total - 2 * (sum(ifelse(M[i, ] > 0, M[i, ] * log(cell), 0)) + (R[i] - sum(M[i, ])) * log(1 - sum(cell)))
  }
  total
}
least <- function(make, k) {
  f <- function(q) { v <- make(plogis(q)); deviance(v$phi, v$p) }
  o <- optim(rep(0.5, k), f, method = "BFGS", control = list(reltol = 1e-15, maxit = 2000)); o <- nlm(f, o$par, gradtol = 1e-10, steptol = 1e-12, iterlim = 500)
  cat(format(c(plogis(o$estimate), o$minimum), digits = 10), "\n")
}
least(function(v) list(phi = rep(v[1], 6), p = rep(v[2], 6)), 2)
least(function(v) list(phi = c(v[1], v[2], v[2], v[1], v[1], v[1]), p = rep(v[3], 6)), 3)
least(function(v) list(phi = v[1:6], p = v[7:12]), 12)
