# Recipe of the figures that KaplanMeierTest and LogRankTest compare with: R 4.2.2, survival 3.5-3, 30 November 2026. Run by hand: Rscript bench/peers/survival.R
library(survival)
six <- data.frame(t = c(6,6,6,6,7,9,10,10,11,13,16,17,19,20,22,23,25,32,32,34,35), e = c(1,1,1,0,1,0,1,0,0,1,1,0,0,0,1,1,0,0,0,0,0), g = "6-MP")
placebo <- data.frame(t = c(1,1,2,2,3,4,4,5,5,8,8,8,8,11,11,12,12,15,17,22,23), e = 1, g = "placebo")
show <- function(f) { s <- summary(f); print(cbind(s$time, s$n.risk, s$n.event, s$surv, s$std.err, s$lower, s$upper, s$cumhaz, s$std.chaz), digits = 7) }
show(survfit(Surv(t, e) ~ 1, six)); show(survfit(Surv(t, e) ~ 1, six, conf.type = "log-log")); show(survfit(Surv(t, e) ~ 1, placebo))
print(survfit(Surv(t, e) ~ 1, six)); print(summary(survfit(Surv(t, e) ~ 1, six), rmean = 35)$table, digits = 9); print(summary(survfit(Surv(t, e) ~ 1, six), rmean = 23)$table, digits = 9)
show(survfit(Surv(time, status) ~ 1, aml[aml$x == "Maintained", ])); show(survfit(Surv(time, status) ~ 1, aml[aml$x != "Maintained", ]))
both <- rbind(six, placebo)
for (f in list(survdiff(Surv(t, e) ~ g, both), survdiff(Surv(t, e) ~ g, both, rho = 1), survdiff(Surv(time, status) ~ x, aml), survdiff(Surv(futime, fustat) ~ rx, ovarian),
               survdiff(Surv(futime, fustat) ~ rx + strata(resid.ds), ovarian), survdiff(Surv(time, status) ~ celltype, veteran)))
  cat(format(c(f$obs, f$exp, f$chisq), digits = 10), "\n")
# Forty pupae of four lots, invented: days hung, 1 for out, 0 for still hanging when last looked at.
p <- data.frame(t = c(5,6,6,7,7,7,8,8,9,12, 4,5,5,6,6,6,6,7,9,9, 6,7,8,8,8,9,9,10,10,14, 3,5,6,6,7,7,7,8,8,8),
                e = c(1,1,1,1,1,0,1,1,0,0, 1,1,1,1,1,1,0,1,1,0, 1,1,1,1,0,1,1,1,1,0, 1,1,1,1,1,1,1,1,0,0), lot = rep(1:4, each = 10))
show(survfit(Surv(t, e) ~ 1, p)); f <- survdiff(Surv(t, e) ~ lot, p); cat(format(c(f$obs, f$exp, f$chisq), digits = 10), "\n")
