# Recipe of the figures that LogisticMixedModelTest compares with: R 4.2.2, lme4 1.1-31. Run by hand: Rscript bench/peers/mixed.R
library(lme4)
# R draws the same numbers from the same seed.
set.seed(7)
# 12 species x 5 suppliers crossed, 1-3 lots a pair
d <- expand.grid(species=1:12, supplier=1:5)
d <- d[rep(seq_len(nrow(d)), sample(0:3, nrow(d), TRUE)),]
d <- d[order(d$species, d$supplier),]
n <- nrow(d)
d$n <- sample(5:20, n, TRUE); d$days <- sample(1:4, n, TRUE)-2
fs<-rnorm(12,0,.8); fj<-rnorm(5,0,.5)
d$out <- rbinom(n, d$n, plogis(1.3-0.3*d$days+fs[d$species]+fj[d$supplier]+rnorm(n,0,.4)))
d$lot <- seq_len(n)
cat(n,"\n"); for (v in c("species","supplier","days","n","out")) cat(v, paste(d[[v]],collapse=","),"\n")
show <- function(m) { cat(format(c(-2*as.numeric(logLik(m)), fixef(m), sqrt(diag(vcov(m))), getME(m,"theta")),digits=12),"\n"); print(names(getME(m,"theta"))) }
ctl <- glmerControl(tolPwrss=1e-13,optimizer="bobyqa", optCtrl=list(rhoend=1e-9,maxfun=1e5))
m <- glmer(cbind(out,n-out)~days+(1|species)+(1|supplier)+(1|lot), d, binomial, control=ctl); show(m)
print(ranef(m)$species[,1],digits=10); print(ranef(m)$supplier[,1],digits=10)
m2 <- glmer(cbind(out,n-out)~1+(1|species)+(1|supplier), d, binomial, control=ctl); show(m2)
mc<-glmer(cbind(incidence,size-incidence)~period+(1|herd),cbpp,binomial,control=ctl); show(mc); print(ranef(mc)$herd[,1],digits=10)
