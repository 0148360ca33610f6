# Recipe of the figures that LogisticMixedModelTest compares with: R 4.2.2, lme4 1.1-31, 30 November 2026. Run by hand: Rscript bench/peers/salamander.R
# The salamander matings of summer 1986 (McCullagh and Nelder 1989, Generalized Linear Models, 2nd ed., section 14.5): each of twenty females, ten Rough Butts
# then ten Whitesides, is put to a male on six days, in that order; males 1 to 10 are Rough Butts, 11 to 20 Whitesides. 120 pairings, 70 matings.
library(lme4)
male <- c(1,5,2,4,3,19,18,16,20,17,9,7,8,10,6,15,14,11,13,12, 14,15,11,12,13,9,8,6,7,10,19,16,17,20,18,2,1,4,3,5, 5,3,1,2,4,20,19,17,18,16,7,9,6,8,10,13,15,12,11,14,
          11,13,14,15,12,7,9,10,6,8,20,17,19,18,16,4,2,5,1,3, 4,1,3,5,2,16,17,20,19,18,10,6,7,9,8,12,11,15,14,13, 15,12,13,14,11,8,6,9,10,7,18,20,16,19,17,1,5,3,4,2)
mated <- c(1,1,1,1,1,1,0,0,0,0,0,0,0,0,0,0,1,1,1,1, 1,1,0,1,1,1,0,1,0,0,1,0,0,1,1,0,1,0,1,0, 1,1,1,1,1,1,0,0,1,1,1,0,0,1,0,1,1,1,1,0,
           0,1,1,0,1,0,1,0,1,0,1,1,0,1,0,0,0,0,1,1, 1,1,1,1,1,1,0,1,1,1,0,0,0,0,0,0,1,1,1,1, 1,1,1,1,1,1,0,1,1,0,1,0,1,1,0,0,1,0,0,0)
d <- data.frame(female = rep(1:20, 6), male, mated)
d$wf <- as.numeric(d$female > 10); d$wm <- as.numeric(d$male > 10)
control <- glmerControl(tolPwrss = 1e-13, optimizer = "bobyqa", optCtrl = list(rhoend = 1e-9, maxfun = 1e5))
m <- glmer(mated ~ wf * wm + (1 | female) + (1 | male), d, binomial, control = control)
cat(format(c(-2 * as.numeric(logLik(m)), fixef(m), getME(m, "theta")), digits = 10), "\n"); print(names(getME(m, "theta")))
cat(format(sqrt(diag(vcov(m))), digits = 8), "\n")
print(ranef(m)$female[, 1], digits = 8); print(ranef(m)$male[, 1], digits = 8)
print(with(d, tapply(mated, list(wf, wm), sum)))
